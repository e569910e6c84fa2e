"""What stands in the headers and cookies, and how the settings follow from one site address."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.test import Client

from tests.conftest import PASSWORD
from workroom.models import Person

ROOT = Path(__file__).parents[2]
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
ASK = (
    "import json; from django.conf import settings as s; print(json.dumps({name: getattr(s, name) for name in"
    " ('ALLOWED_HOSTS', 'CSRF_TRUSTED_ORIGINS', 'SESSION_COOKIE_SECURE', 'CSRF_COOKIE_SECURE',"
    " 'SECURE_HSTS_SECONDS', 'SECURE_PROXY_SSL_HEADER', 'DEBUG', 'PASSWORD_HASHERS',"
    " 'DATA_UPLOAD_MAX_MEMORY_SIZE')}))"
)


def real_settings(**environment: str) -> dict[str, Any]:
    """The house's own settings (not the tests') under this environment."""
    clean = {
        key: value for key, value in os.environ.items() if not key.startswith(("HOOKLEDGER", "DATABASE"))
    }
    outcome = subprocess.run(
        [sys.executable, "-c", ASK],
        env=clean | {"DJANGO_SETTINGS_MODULE": "hookledger.settings"} | environment,
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return dict(json.loads(outcome.stdout))


def test_behind_tls_one_address_sets_hosts_origins_cookies_and_hsts() -> None:
    found = real_settings(HOOKLEDGER_SITE="https://studio.example")
    assert "studio.example" in found["ALLOWED_HOSTS"]
    assert found["CSRF_TRUSTED_ORIGINS"] == ["https://studio.example"]
    assert found["SESSION_COOKIE_SECURE"] is found["CSRF_COOKIE_SECURE"] is True
    assert found["SECURE_HSTS_SECONDS"] == 365 * 24 * 60 * 60
    assert found["SECURE_PROXY_SSL_HEADER"] == ["HTTP_X_FORWARDED_PROTO", "https"]


def test_alone_on_one_machine_it_answers_that_machine_only() -> None:
    found = real_settings()
    assert found["ALLOWED_HOSTS"] == ["localhost", "127.0.0.1", "[::1]"]
    assert found["SECURE_PROXY_SSL_HEADER"] is None
    assert found["SESSION_COOKIE_SECURE"] is False
    assert found["DEBUG"] is False


def test_passwords_are_kept_with_argon2_and_16_mb_reach_a_form() -> None:
    found = real_settings()
    assert found["PASSWORD_HASHERS"][0].endswith("Argon2PasswordHasher")
    assert found["DATA_UPLOAD_MAX_MEMORY_SIZE"] == 16 * 1024 * 1024


def test_the_policy_allows_nothing_inline_and_nothing_from_elsewhere(stranger_client: Client) -> None:
    policy = stranger_client.get("/sign-in/")["Content-Security-Policy"]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == rules["style-src"] == rules["font-src"] == "'self'"
    assert rules["frame-ancestors"] == rules["base-uri"] == "'none'"
    assert "unsafe" not in policy
    assert "http" not in policy


def test_the_other_headers(stranger_client: Client) -> None:
    response = stranger_client.get("/sign-in/")
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["X-Frame-Options"] == "DENY"
    assert response["Referrer-Policy"] == "same-origin"


def test_scripts_can_not_read_the_cookies(owner: Person, stranger_client: Client) -> None:
    response = stranger_client.post("/sign-in/", {"handle": owner.handle, "password": PASSWORD})
    for cookie in ("hookledger_csrf", "hookledger_session"):
        assert response.cookies[cookie]["httponly"]
    assert settings.SESSION_COOKIE_SAMESITE == "Lax"


def test_htmx_finds_its_token_and_a_setting_without_inline_styles(owner_client: Client) -> None:
    page = owner_client.get("/desk/").text
    token = page.partition('name="csrf-token" content="')[2].partition('"')[0]
    config = json.loads(page.partition('name="htmx-config" content=\'')[2].partition("'")[0])
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = owner_client.cookies
    assert strict.post("/sign-out/", headers={"X-CSRFToken": token}).status_code == 302
    assert (config["includeIndicatorStyles"], config["allowEval"]) == (False, False)


@pytest.mark.parametrize(
    "template", TEMPLATES, ids=[str(t.relative_to(ROOT / "templates")) for t in TEMPLATES]
)
def test_no_template_holds_what_the_policy_forbids(template: Path) -> None:
    """Papers are printed, not shown by a browser, and may carry a style of their own."""
    text = template.read_text(encoding="utf-8")
    words = [" onclick=", " onchange=", " onsubmit=", "hx-on", "javascript:", "<script>", "//cdn"]
    if "paper" not in template.relative_to(ROOT / "templates").as_posix():
        words += [" style=", "<style"]
    assert [word for word in words if word in text] == []
