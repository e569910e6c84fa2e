"""The shell scripts' sentences. A stand-in for python3 or apt is put first on the path."""

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A checkout without a .venv: the scripts and an empty lock file."""
    shutil.copytree(ROOT / "script", tmp_path / "house" / "script")
    for lock in ("requirements.lock", "requirements-dev.lock"):
        (tmp_path / "house" / lock).touch()
    return tmp_path / "house"


@pytest.fixture
def stand_in(tmp_path: Path) -> Callable[[str, str], None]:
    folder = tmp_path / "bin"
    folder.mkdir()
    for tool in ("bash", "env", "dirname", "cat", "cksum", "rm", "mkdir", "id", "uname", "ls"):
        (folder / tool).symlink_to(str(shutil.which(tool)))

    def make(name: str, body: str) -> None:
        file = folder / name
        file.write_text(f"#!/bin/sh\n{body}\n")
        file.chmod(0o755)

    return make


def run(checkout: Path, *command: str) -> subprocess.CompletedProcess[str]:
    path = str(checkout.parent / "bin")
    environment = {"PATH": path, "HOME": str(checkout)}
    return subprocess.run(command, cwd=checkout, env=environment, capture_output=True, text=True, check=False)


def test_a_too_old_python_is_named(checkout: Path, stand_in: Callable[[str, str], None]) -> None:
    stand_in("python3", 'case "$1" in --version) echo Python 3.9.18;; *) exit 1;; esac')
    outcome = run(checkout, "script/setup", "serve")
    assert outcome.returncode == 1
    assert outcome.stderr.startswith(
        "Hook & Ledger needs Python 3.11, 3.12, 3.13 or 3.14; here is Python 3.9.18. Install one of them,"
    )
    assert not (checkout / ".venv").exists()


def test_no_python_at_all_is_told(checkout: Path, stand_in: Callable[[str, str], None]) -> None:
    outcome = run(checkout, "script/setup", "serve")
    assert outcome.returncode == 1
    assert "here is no Python." in outcome.stderr


FAKE_PYTHON = """
case "$1 $2" in
  "-m venv") mkdir -p "$3/bin"; cat "$0" >"$3/bin/python"; /bin/chmod +x "$3/bin/python";;
  "-m pip") echo "$*" >>pip-was-called;;
  --version*) echo Python 3.12.1;;
  *weasyprint*) exit 1;;
esac
"""


def test_nothing_is_done_twice(checkout: Path, stand_in: Callable[[str, str], None]) -> None:
    stand_in("python3", FAKE_PYTHON.replace("*weasyprint*) exit 1", "nothing) exit 0"))
    for _time in range(2):
        outcome = run(checkout, "script/setup", "serve")
        assert outcome.returncode == 0, outcome.stderr
    calls = (checkout / "pip-was-called").read_text().splitlines()
    assert len(calls) == 1
    assert "--require-hashes -r requirements.lock" in calls[0]
    (checkout / "requirements.lock").write_text("# changed\n")
    run(checkout, "script/setup", "serve")
    assert len((checkout / "pip-was-called").read_text().splitlines()) == 2


def test_missing_debian_packages_are_named_to_who_may_not_install(
    checkout: Path, stand_in: Callable[[str, str], None]
) -> None:
    stand_in("python3", FAKE_PYTHON)
    stand_in("dpkg-query", "exit 1")
    stand_in("apt-get", "exit 1")
    (checkout.parent / "bin" / "id").unlink()
    stand_in("id", "echo 1000")
    outcome = run(checkout, "script/setup")
    assert outcome.returncode == 1
    assert "run: apt-get install libpango-1.0-0 libpangoft2-1.0-0" in outcome.stderr
    assert "chromium postgresql poppler-utils" in outcome.stderr
    serving = run(checkout, "script/setup", "serve")
    assert serving.returncode == 0
    assert "chromium" not in serving.stderr
    assert "Going on without; PDFs will not print until that is there." in serving.stderr


def test_a_mac_is_told_to_brew(checkout: Path, stand_in: Callable[[str, str], None]) -> None:
    stand_in("python3", FAKE_PYTHON)
    (checkout.parent / "bin" / "uname").unlink()
    stand_in("uname", "echo Darwin")
    stand_in("brew", "exit 1")
    outcome = run(checkout, "script/setup", "serve")
    assert "Missing: pango. Run: brew install pango" in outcome.stderr


def test_another_linux_is_told_the_library(checkout: Path, stand_in: Callable[[str, str], None]) -> None:
    stand_in("python3", FAKE_PYTHON)
    outcome = run(checkout, "script/setup")
    assert outcome.returncode == 1
    assert "Missing for PDFs: Pango with HarfBuzz." in outcome.stderr


def test_serve_tells_its_options_without_setting_anything_up() -> None:
    outcome = subprocess.run(
        [ROOT / "script" / "serve", "--help"], capture_output=True, text=True, check=True, cwd="/"
    )
    assert "--port" in outcome.stdout
    assert "--empty" in outcome.stdout
