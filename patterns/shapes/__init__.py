"""Settled shapes of patterns: worked out once, kept by the hash of what they come from, drawn for page and
paper.
"""

from patterns.shapes.asked import Asked, asked_for
from patterns.shapes.keeping import Kept, failed, kept, progress_of, stop, work_now, work_soon

__all__ = ["Asked", "Kept", "asked_for", "failed", "kept", "progress_of", "stop", "work_now", "work_soon"]
