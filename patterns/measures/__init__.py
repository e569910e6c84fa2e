"""How large a pattern comes out, whether it lies flat and what form it has: values for its page.

`gauges` chooses the gauge, `drawings` turns rounds into SVG places, `words` has the sentences, `page` puts
all together, `finished` takes measurements over into the facts of the pattern.
"""

from patterns.measures.page import measures_page
from patterns.measures.values import MeasuresPage

__all__ = ["MeasuresPage", "measures_page"]
