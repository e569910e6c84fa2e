"""script/serve: what it prepares, what it prints, and the sentence for whatever stands in the way."""

import json
import re
import socket
import stat
from pathlib import Path

import pytest
from django.contrib.staticfiles.finders import get_finder
from django.core.management import CommandError, call_command
from django.test import Client
from pytest_django import Settings

from hookledger.opening import links_for_start
from hookledger.serving import (
    CannotServeError,
    check_port,
    collect_static,
    main,
    make_data_folder,
    make_key_file,
    read_arguments,
)
from workroom.models import Person, Role, Studio


def test_its_arguments() -> None:
    assert vars(read_arguments([])) == {"port": 8000, "empty": False}
    assert vars(read_arguments(["--port", "9000", "--empty"])) == {"port": 9000, "empty": True}


@pytest.mark.parametrize("port", ["0", "65536", "eight", "-1"])
def test_a_port_that_is_none(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        read_arguments(["--port", port])
    assert "write a port from 1 to 65535" in capsys.readouterr().err


def test_a_taken_port(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        holder.listen()
        port = holder.getsockname()[1]
        assert main(["--port", str(port)]) == 1
    sentence = (
        f"Port {port} is taken by another program. Stop that one, or take another: --port {port + 1}.\n"
    )
    assert capsys.readouterr().err == sentence
    check_port(port)


def test_a_folder_that_can_not_be_written(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("HOOKLEDGER_DATA", str(tmp_path / "file" / "data"))
    with pytest.raises(CannotServeError) as caught:
        make_data_folder()
    assert str(caught.value) == (
        f"Nothing can be written in {tmp_path}/file/data. Give yourself the right to write there,"
        " or keep the data elsewhere: HOOKLEDGER_DATA=/some/folder script/serve."
    )


def test_the_folder_and_the_key_are_made_once(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOOKLEDGER_DATA", str(tmp_path / "new" / "data"))
    monkeypatch.delenv("HOOKLEDGER_SECRET_KEY")
    make_data_folder()
    key = tmp_path / "new" / "data" / "secret-key"
    first = key.read_text()
    assert len(first.strip()) >= 50
    assert stat.S_IMODE(key.stat().st_mode) == 0o600
    make_data_folder()
    assert key.read_text() == first


def test_a_key_from_the_environment_needs_no_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOOKLEDGER_DATA", str(tmp_path))
    make_data_folder()
    assert list(tmp_path.iterdir()) == []


def test_two_keys_differ(tmp_path: Path) -> None:
    make_key_file(tmp_path / "one")
    make_key_file(tmp_path / "two")
    assert (tmp_path / "one").read_text() != (tmp_path / "two").read_text()


def test_static_files_are_gathered_once_and_again_when_one_changed(
    settings: Settings, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "source").mkdir()
    sheet = tmp_path / "source" / "sheet.css"
    sheet.write_text("a { color: red; }")
    settings.STATICFILES_DIRS = [tmp_path / "source"]
    settings.STATIC_ROOT = tmp_path / "static"
    settings.STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.FileSystemFinder"]
    get_finder.cache_clear()
    calls = []
    monkeypatch.setattr("django.core.management.call_command", lambda *args, **_: calls.append(args))
    (tmp_path / "static").mkdir()
    collect_static()
    collect_static()
    assert calls == [("collectstatic",)]
    sheet.write_text("a { color: blue; }")
    collect_static()
    assert len(calls) == 2
    get_finder.cache_clear()


def test_production_names_every_static_file_by_its_hash(settings: Settings, tmp_path: Path) -> None:
    """Fails when a stylesheet names a file that is not there."""
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = settings.STORAGES | {"staticfiles": {"BACKEND": "workroom.static.HashedStorage"}}
    call_command("collectstatic", verbosity=0, interactive=False)
    paths = json.loads((tmp_path / "staticfiles.json").read_text())["paths"]
    assert re.fullmatch(r"hookledger\.[0-9a-f]{12}\.css", paths["hookledger.css"])
    assert "fonts/SourceSansPro-Regular." in (tmp_path / paths["hookledger.css"]).read_text()


def test_a_wrong_setting_is_named(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("HOOKLEDGER_WORKERS", "many")
    assert main(["--port", "18231"]) == 1
    assert capsys.readouterr().err == "HOOKLEDGER_WORKERS is “many”. Write a whole number from 1 to 32.\n"


@pytest.fixture
def demo_alone(monkeypatch: pytest.MonkeyPatch, db: None) -> None:
    """The demo's people without the rooms' own rows, which have tests of their own."""
    monkeypatch.setattr("hookledger.management.commands.demo.ROOMS", ())


def test_a_fresh_database_gets_the_demo_and_three_links(demo_alone: None) -> None:
    links = links_for_start(empty=False)
    assert [who for who, _path in links] == [
        "Designer, Maren Thorpe",
        "Seller, Tomas Reeve",
        "Assistant, Ida Penhale",
    ]
    for _who, path in links:
        client = Client()
        assert client.post(path)["Location"] == "/desk/"
        assert client.get("/desk/").status_code == 200


def test_the_next_start_gives_new_links_and_no_second_demo(demo_alone: None) -> None:
    first = links_for_start(empty=False)
    second = links_for_start(empty=False)
    assert Person.objects.count() == 3
    assert Client().post(first[0][1]).status_code == 410
    assert Client().post(second[0][1]).status_code == 302


def test_empty_makes_an_owner_with_every_role(db: None) -> None:
    [(who, path)] = links_for_start(empty=True)
    assert who == "Owner, for the first time"
    client = Client()
    data = {
        "name": "Odile",
        "handle": "odile",
        "password": "herring on the quay",
        "again": "herring on the quay",
    }
    assert client.post(path, data)["Location"] == "/desk/"
    assert Person.objects.get().roles == frozenset(Role)
    assert "Describe your studio" in client.get("/desk/").text
    assert links_for_start(empty=True) == [("Sign in", "/sign-in/")]
    assert links_for_start(empty=False) == [("Sign in", "/sign-in/")]
    assert not Studio.objects.filter(demo=True).exists()


def test_an_owner_who_has_not_come_yet_gets_a_new_link(db: None) -> None:
    [(_who, first)] = links_for_start(empty=True)
    [(_who, second)] = links_for_start(empty=False)
    assert Person.objects.count() == 1
    assert Client().get(first).status_code == 410
    assert Client().get(second).status_code == 200


def test_empty_over_the_demo_is_refused(demo_alone: None) -> None:
    links_for_start(empty=False)
    with pytest.raises(CannotServeError, match=r"^This folder holds the demo already\."):
        links_for_start(empty=True)


def test_the_demo_is_for_an_empty_workroom_only(owner: Person) -> None:
    with pytest.raises(CommandError, match="There are people here already"):
        call_command("demo")
    assert Person.objects.count() == 1


def test_sign_in_link(designer: Person, capsys: pytest.CaptureFixture[str]) -> None:
    call_command("sign_in_link", designer.handle)
    link = capsys.readouterr().out.strip()
    assert Client().post(link.removeprefix("http://127.0.0.1:8000")).status_code == 302
    with pytest.raises(CommandError, match=rf"Nobody signs in as “x”\. There are: {designer.handle}\."):
        call_command("sign_in_link", "x")
