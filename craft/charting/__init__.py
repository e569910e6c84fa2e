"""Symbol charts: from the stitches of a fabric and what each is worked into to a drawing.

    piece = from_fabric.pieces_of(work(read(text)), size=0)[0]
    placed = lay_out(shortened(piece))
    svg = svg_of(placed, Words("Granny square", "Four rounds."), Style(symbols=SymbolSet.JIS))

Counts in a chart are those of the text by construction: every stitch of the graph is one sign, every sign one
line of the drawing.
"""

from craft.charting.inks import Ink, inks
from craft.charting.kept import from_plain, to_plain
from craft.charting.key import KeyEntry, key_of, ring_used, specimen
from craft.charting.layout import lay_out, only
from craft.charting.model import Course, Piece, Placed, Role, Sign, Start
from craft.charting.shapes import SymbolSet
from craft.charting.sheets import Sheet, sheets_of
from craft.charting.shorten import MOST_SIGNS, parts_of, shortened
from craft.charting.svg import Style, Words, svg_of, symbol_svg

__all__ = [
    "MOST_SIGNS",
    "Course",
    "Ink",
    "KeyEntry",
    "Piece",
    "Placed",
    "Role",
    "Sheet",
    "Sign",
    "Start",
    "Style",
    "SymbolSet",
    "Words",
    "from_plain",
    "inks",
    "key_of",
    "lay_out",
    "only",
    "parts_of",
    "ring_used",
    "sheets_of",
    "shortened",
    "specimen",
    "svg_of",
    "symbol_svg",
    "to_plain",
]
