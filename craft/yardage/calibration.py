"""Learning a maker's own yarn use from pieces and swatches that were weighed.

Let b be the log of a maker's actual over predicted yarn. Before anything is weighed, b is normal with mean 0
and standard deviation s0 = 0.17 (0.18 without a gauge). A piece adds its own noise s: 0.05 in log for a whole
piece, 0.035 for a swatch or the first rows of the piece itself. After observing x = ln(actual/predicted):

    1/s1^2 = 1/s0^2 + 1/s^2          m1 = s1^2 (m0/s0^2 + x/s^2)

and the next piece is predicted as predicted x exp(m1), with log standard deviation sqrt(s1^2 + s^2): 0.07
after one weighed piece, 0.05 after a weighed swatch. This is the conjugate update of a normal mean with
known variance (any textbook of Bayesian statistics); only the logs make it ours.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from craft.yardage.values import InvalidYardageError

__all__ = ["PIECE_NOISE", "SWATCH_NOISE", "Calibration", "learn"]

PIECE_NOISE: Final = 0.05
SWATCH_NOISE: Final = 0.035
MAKER_SPREAD: Final = 0.17


@dataclass(frozen=True, slots=True)
class Calibration:
    """What is known of ln(actual/predicted) for one maker and yarn: a normal with this mean and spread.

    `noise_log`: what a single piece adds to it. `observations`: how many were weighed.
    """

    mean_log: float = 0.0
    sd_log: float = MAKER_SPREAD
    noise_log: float = PIECE_NOISE
    observations: int = 0

    @property
    def factor(self) -> float:
        """What predictions are multiplied by."""
        return math.exp(self.mean_log)

    @property
    def predictive_sd(self) -> float:
        """Log standard deviation of the next piece."""
        if self.observations == 0:
            return self.sd_log
        return math.hypot(self.sd_log, self.noise_log)


def learn(
    known: Calibration, predicted_m: float, actual_m: float, *, noise_log: float = PIECE_NOISE
) -> Calibration:
    """Return what is known after one more weighed piece or swatch.

    `predicted_m`: the median predicted without calibration; `actual_m`: what it took, both in m (or both in
    g). The order of pieces does not matter. Raises InvalidYardageError.
    """
    if not all(math.isfinite(value) and value > 0 for value in (predicted_m, actual_m, noise_log)):
        raise InvalidYardageError("Weighed and predicted lengths have to be above nought.")
    observed = math.log(actual_m / predicted_m)
    before, seen = known.sd_log**-2, noise_log**-2
    variance = 1 / (before + seen)
    return replace(
        known,
        mean_log=variance * (known.mean_log * before + observed * seen),
        sd_log=math.sqrt(variance),
        noise_log=noise_log,
        observations=known.observations + 1,
    )
