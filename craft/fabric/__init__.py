"""The worked fabric of a draft: what every round comes to, per size.

from craft.notation import read
from craft.fabric import work

fabric = work(read(text))
for worked in fabric.rounds:
    print(worked.number, worked.verdict, [sized and sized.total for sized in worked.per_size])
"""

from craft.fabric.model import Fabric
from craft.fabric.passes import with_passes
from craft.fabric.work import work

__all__ = ["Fabric", "with_passes", "work"]
