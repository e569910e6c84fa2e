"""Label codes: eight signs, the last a check, each given out once for ever."""

import secrets

from django.db import transaction
from django.utils import timezone

from craft.standards.codes import LABEL_ALPHABET, LABEL_LENGTH, label_code
from yarns.models import LabelCode


def new_code(kind: str) -> str:
    """Give out a code that no label has ever had. `kind`: what will carry it ("lot")."""
    while True:
        code = _random_code()
        with transaction.atomic():
            _row, fresh = LabelCode.objects.get_or_create(
                code=code, defaults={"kind": kind, "given_at": timezone.now()}
            )
        if fresh:
            return code


def keep_code(code: str, kind: str) -> str:
    """Give out a code that a label from elsewhere carries. Raises IntegrityError where it was given out."""
    LabelCode.objects.create(code=code, kind=kind, given_at=timezone.now())
    return code


def _random_code() -> str:
    while True:
        body = "".join(secrets.choice(LABEL_ALPHABET) for _sign in range(LABEL_LENGTH - 1))
        code = label_code(body)
        if code is not None:
            return code
