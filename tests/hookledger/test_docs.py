"""README and DEVELOPERS tell the truth: every command and every setting is in them, and nothing else."""

import re
from pathlib import Path

import pytest
from django.core.management import get_commands

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
OUR_APPS = {"workroom", "yarns", "patterns", "orders", "hookledger"}
CODE = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "hookledger").glob("*.py"))
READ_IN_SETTINGS = set(re.findall(r'read_\w+\("(\w+)"', CODE))


def test_every_setting_is_described_and_no_other() -> None:
    table = DEVELOPERS.partition("## Settings")[2].partition("\n## ")[0]
    described = set(re.findall(r"^\| `(\w+)`", table, re.MULTILINE))
    assert described - {"HOOKLEDGER_PYTHON"} == READ_IN_SETTINGS


@pytest.mark.parametrize("command", sorted(name for name, app in get_commands().items() if app in OUR_APPS))
def test_every_command_is_described(command: str) -> None:
    assert f"manage.py {command}" in DEVELOPERS


@pytest.mark.parametrize("script", sorted(path.name for path in (ROOT / "script").iterdir()))
def test_every_script_is_described_and_can_be_started(script: str) -> None:
    assert f"`script/{script}`" in DEVELOPERS
    assert (ROOT / "script" / script).stat().st_mode & 0o111


def test_the_readme_opens_with_the_job_and_two_commands() -> None:
    commands = re.findall(r"^    (script/\w+)$", README, re.MULTILINE)
    assert commands == ["script/serve", "script/test"]
    assert README.index("You design crochet patterns") < README.index("script/serve")


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-dev.lock"])
def test_lock_files_carry_hashes_and_no_addresses(lock: str) -> None:
    text = (ROOT / lock).read_text(encoding="utf-8")
    assert "://" not in text
    assert "--index" not in text
    for block in re.split(r"\n(?=\S)", text.strip()):
        assert "--hash=sha256:" in block
