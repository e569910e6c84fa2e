"""From a pattern as it is written to a revision as it is frozen.

`freeze(pattern, checked, ...)` makes a `Revision` that is not yet kept: a preview shows it, publishing
keeps it. What stands in its JSON is read back by `patterns.revisions` and `patterns.edition` alone.
"""

from patterns.freezing.revision import freeze, suggested_version

__all__ = ["freeze", "suggested_version"]
