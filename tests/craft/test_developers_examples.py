"""The Python examples of DEVELOPERS.md run as they stand, with no Django loaded."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BLOCKS = re.findall(r"```python\n(.*?)```", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), re.DOTALL)


@pytest.mark.parametrize("code", BLOCKS, ids=lambda code: code.splitlines()[0])
def test_example_runs_without_django(code: str) -> None:
    checked = f"{code}\nimport sys\nassert 'django' not in sys.modules\n"
    run = subprocess.run(
        [sys.executable, "-c", checked], cwd=ROOT, capture_output=True, text=True, check=False, timeout=120
    )
    assert run.returncode == 0, run.stderr
