"""The press: HTML to PDF in one warm process that can be killed.

`Press.print_pdf(job)` hands HTML, style sheet and pictures to a child process that holds WeasyPrint, its
fonts and its style sheet ready, and gets the bytes back. The child has limits on memory; the parent
ends it when a job takes too long and starts another for the next. Nothing that stands in a text can
make the child open a file or an address: it reaches the fonts and what the job carries, by name.
"""

from patterns.press.job import PaperFailedError, PaperTooLongError, PressError, PrintJob
from patterns.press.parent import Press, press

__all__ = ["PaperFailedError", "PaperTooLongError", "Press", "PressError", "PrintJob", "press"]
