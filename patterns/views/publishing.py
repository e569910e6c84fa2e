"""From what is written to what is out: preview, publish, unpublish."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from patterns.checking import Checked, check
from patterns.edition import edition
from patterns.forms import PublishForm
from patterns.freezing import freeze, suggested_version
from patterns.freezing.facts import ASKS_THE_DESIGNER, cautions_of
from patterns.models import Pattern, Revision
from patterns.published_chart import charts_to_keep
from patterns.revisions import UnknownSizeError
from patterns.selectors import last_revision, pattern_or_404, reasons_of, source_of
from patterns.services import (
    NotReadyError,
    StaleEditError,
    pattern_unpublish,
    revision_publish,
)
from workroom.http import StaffRequest

__all__ = ["preview", "publish", "unpublish"]


@require_http_methods(["GET", "HEAD", "POST"])
def publish(request: StaffRequest, slug: str) -> HttpResponse:
    pattern = pattern_or_404(slug)
    checked = _checked(pattern)
    now = freeze(pattern, checked)
    if request.method != "POST":
        return _show(request, pattern, checked, now, _unbound(pattern, now))
    form = PublishForm(request.POST)
    if form.is_valid() and not in_the_way(pattern, checked):
        try:
            return _published(request, pattern, checked, form)
        except StaleEditError as stale:
            form.add_error(
                None, _("Somebody saved a change in the meantime. Look once more and publish again.")
            )
            return _fresh(request, stale.current, form)
        except NotReadyError as error:
            form.add_error("version", str(error))
    return _show(request, pattern, checked, now, form, status=422)


@require_POST
def unpublish(request: StaffRequest, slug: str) -> HttpResponse:
    pattern_unpublish(pattern_or_404(slug))
    messages.success(request, _("Taken off the site. What was published stays in the book."))
    return redirect("patterns:publish", slug)


@require_safe
def preview(request: StaffRequest, slug: str) -> HttpResponse:
    """The public page as it would be, from what is saved now."""
    pattern = pattern_or_404(slug)
    checked = _checked(pattern)
    revision = freeze(pattern, checked)
    charts = charts_to_keep(revision, checked, pattern.chart_set) if pattern.chart_shown else ()
    try:
        shown = edition(revision, request.GET.get("size") or None, charts)
    except UnknownSizeError:
        shown = edition(revision, charts=charts)
    return render(request, "public/pattern.html", {"pattern": pattern, "edition": shown, "preview": True})


def in_the_way(pattern: Pattern, checked: Checked) -> list[str]:
    """What keeps a pattern from being published, as sentences; empty when nothing does."""
    if checked.broken:
        return [_("The check could not be finished, so nothing is known of the counts.")]
    if not checked.rounds:
        return [_("There are no rounds or rows that could be read.")]
    return [*_sizes_differ(pattern, checked), *_to_mend(len(checked.blocking))]


def _sizes_differ(pattern: Pattern, checked: Checked) -> Iterator[str]:
    """Text and facts have to speak for the same number of sizes, or counts would go to the wrong one."""
    named, read = pattern.sizes.count(), len(checked.sizes)
    if named > 1 and read != named:
        yield _("The facts name %(named)s sizes and the text is read for %(read)s.") % {
            "named": named, "read": max(read, 1),
        }  # fmt: skip


def _to_mend(number: int) -> Iterator[str]:
    if number:
        yield ngettext(
            "%(number)s remark must be mended or set aside first.",
            "%(number)s remarks must be mended or set aside first.",
            number,
        ) % {"number": number}


def _published(request: StaffRequest, pattern: Pattern, checked: Checked, form: PublishForm) -> HttpResponse:
    data = form.cleaned_data
    revision = freeze(pattern, checked, version=data["version"], changes=data["changes"])
    symbols = data["chart_set"] or pattern.chart_set
    revision_publish(
        pattern, revision, text_edit=data["text_edit"], facts_edit=data["facts_edit"],
        by=request.user, chart_set=symbols,
        charts=charts_to_keep(revision, checked, symbols) if data["chart_shown"] else (),
    )  # fmt: skip
    messages.success(request, _("Version %s is out.") % revision.version)
    return redirect("patterns:publish", pattern.slug)


def _fresh(request: StaffRequest, current: Pattern, form: PublishForm) -> HttpResponse:
    """The page again with what somebody else saved, ready to be published knowingly."""
    checked = _checked(current)
    form.data = {
        **{name: form.data[name] for name in form.data},
        "text_edit": str(current.text_edit),
        "facts_edit": str(current.facts_edit),
    }
    return _show(request, current, checked, freeze(current, checked), form, status=409)


def _checked(pattern: Pattern) -> Checked:
    return check(source_of(pattern), pattern.terms, reasons_of(pattern))


def _unbound(pattern: Pattern, now: Revision) -> PublishForm:
    return PublishForm(
        initial={
            "version": suggested_version(last_revision(pattern), now),
            "text_edit": pattern.text_edit,
            "facts_edit": pattern.facts_edit,
            "chart_shown": pattern.chart_shown,
            "chart_set": pattern.chart_set,
        }
    )


def _show(
    request: StaffRequest, pattern: Pattern, checked: Checked, now: Revision, form: PublishForm,
    status: int = 200,
) -> HttpResponse:  # fmt: skip
    context: dict[str, Any] = {
        "pattern": pattern,
        "form": form,
        "checked": checked,
        "in_the_way": in_the_way(pattern, checked),
        "missing": [*_missing(now), *_asked(pattern, now)],
        "revisions": pattern.revisions.select_related("published_by"),
        "tab": "publish",
    }
    return render(request, "patterns/publish.html", context, status=status)


def _missing(now: Revision) -> Iterator[str]:
    """What a reader would miss. It does not block."""
    facts = now.facts
    if not facts["introduction"]:
        yield _("An introduction: what it is and how it is worked.")
    if facts["gauge"] is None:
        yield _("The gauge; without it no yarn can be worked out.")
    if facts["hook_um"] is None:
        yield _("The hook.")
    if not facts["yarns"]:
        yield _("The yarn.")
    elif not any(now.estimate["yarn"].values()):
        yield _("How much yarn it takes: choose a yarn from the shelf and say the gauge.")
    if not facts["photos"]:
        yield _("A photo.")
    elif not all(photo["alt"] for photo in facts["photos"]):
        yield _("What the photos show, for people who can't see them.")
    if not facts["licence"]:
        yield _("What others may do with the pattern and with what they make from it.")


def _asked(pattern: Pattern, now: Revision) -> Iterator[str]:
    """What the cautions of such a piece ask the designer to say."""
    minutes = max(now.estimate["minutes"].values(), default=None)
    for caution in cautions_of(pattern, minutes=minutes):
        if caution.slug in ASKS_THE_DESIGNER:
            yield caution.sentence
