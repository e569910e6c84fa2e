"""The demo's patterns: four designs of Two Gulls Crochet, checked and published as anybody's would be."""

from patterns.demo.making import DemoBrokenError, make

__all__ = ["DemoBrokenError", "make"]
