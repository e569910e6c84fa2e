"""Old work comes in: a file becomes text, the text becomes the fields of a pattern, for a look beforehand.

`read_document(upload)` opens .txt, .docx and .odt; `split(text)` tells facts from instructions. Every
line of the text lands in one field or another: what is not understood stands in the notes.
"""

from patterns.intake.documents import read_document
from patterns.intake.splitting import Intake, split

__all__ = ["Intake", "read_document", "split"]
