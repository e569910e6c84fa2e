"""How static files are kept: named by their hash, with a gzip copy beside them.

Brotli would make the typefaces a fifth smaller and the first start ten seconds
slower on two cores; nobody waits for a fifth of 130 kB on the second page.
"""

from typing import Any

from whitenoise.compress import Compressor
from whitenoise.storage import CompressedManifestStaticFilesStorage


class HashedStorage(CompressedManifestStaticFilesStorage):  # type: ignore[misc]  # whitenoise has no types
    def create_compressor(self, **kwargs: Any) -> Compressor:
        return Compressor(**kwargs | {"use_brotli": False})
