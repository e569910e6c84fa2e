"""One statement's tokens to steps: a recursive-descent parser in layers, each a class of its own.

cursor <- nouns <- places <- counting <- times <- working <- chains <- asides <- rows <- brackets <- stars
<- parser. A layer uses those before it; what it needs of a later one is declared in `cursor`.
"""

from craft.notation.steps.parser import Parser

__all__ = ["Parser"]
