"""Reads of the workroom."""

from workroom.models import Studio


def current_studio() -> Studio:
    """The studio's profile; one with the defaults (not saved) before anybody filled it in."""
    return Studio.objects.filter(pk=1).first() or Studio(pk=1)
