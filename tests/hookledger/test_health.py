from pathlib import Path
from unittest.mock import patch

from django.db import OperationalError, connection
from django.db.migrations.recorder import MigrationRecorder
from django.test import Client
from pytest_django import Settings

from hookledger.health import can_write

URL = "/healthz"


def test_it_works_for_anybody(stranger_client: Client) -> None:
    response = stranger_client.get(URL)
    assert response.status_code == 200
    assert response.json() == {"ok": True, "wrong": []}
    assert "no-store" in response["Cache-Control"]


def test_it_refuses_other_methods(stranger_client: Client) -> None:
    assert stranger_client.post(URL).status_code == 405


def test_a_data_folder_that_can_not_be_written(
    stranger_client: Client, settings: Settings, tmp_path: Path
) -> None:
    settings.DATA = tmp_path / "gone"
    response = stranger_client.get(URL)
    assert response.status_code == 503
    assert response.json() == {"ok": False, "wrong": ["data folder"]}


def test_a_migration_that_waits(stranger_client: Client) -> None:
    MigrationRecorder(connection).migration_qs.filter(app="workroom").delete()
    assert stranger_client.get(URL).json() == {"ok": False, "wrong": ["migrations"]}


def test_a_database_that_is_away_is_told_without_details(stranger_client: Client) -> None:
    with patch("hookledger.health.MigrationExecutor", side_effect=OperationalError("password is hush")):
        response = stranger_client.get(URL)
    assert response.status_code == 503
    assert response.json() == {"ok": False, "wrong": ["database"]}


def test_asking_leaves_nothing_behind(tmp_path: Path) -> None:
    assert can_write(tmp_path)
    assert list(tmp_path.iterdir()) == []
    assert not can_write(tmp_path / "gone")
