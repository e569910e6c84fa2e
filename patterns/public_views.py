"""What anybody can open: the studio's home, a pattern, its papers and photos."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseNotModified
from django.shortcuts import render
from django.utils.cache import get_conditional_response
from django.utils.http import quote_etag
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from patterns.edition import Edition, edition
from patterns.models import Revision
from patterns.paper import Paper, pdf_of, prepare
from patterns.press import PressError
from patterns.revisions import UnknownSizeError
from patterns.selectors import photo_is_public, published_or_404, published_patterns
from patterns.shopfront import cards
from workroom.media import SUFFIXES, photo_bytes
from workroom.selectors import current_studio

__all__ = ["home", "paper", "pattern", "photo"]

FOREVER = "public, max-age=31536000, immutable"


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    return render(request, "public/home.html", {"cards": cards(published_patterns())})


@require_safe
def pattern(request: HttpRequest, slug: str) -> HttpResponse:
    revision = published_or_404(slug)
    shown = _edition_or_404(revision, request.GET.get("size"))
    context = {"pattern": revision.pattern, "edition": shown, "revision": revision}
    return render(request, "public/pattern.html", context)


@require_safe
def paper(request: HttpRequest, slug: str, paper: str) -> HttpResponse:
    """The PDF, printed when it is first asked for and kept under the hash of what went into it."""
    revision = published_or_404(slug)
    shown = _edition_or_404(revision, request.GET.get("size"))
    prepared = prepare(revision, shown, Paper(paper), current_studio())
    unchanged = get_conditional_response(request, etag=quote_etag(prepared.key))
    if isinstance(unchanged, HttpResponseNotModified):
        return unchanged
    try:
        content = pdf_of(prepared)
    except PressError as error:
        says = _("The PDF could not be made just now. The page itself has all that stands in it.")
        return render(request, "public/no_paper.html", {"says": says, "why": error, "slug": slug}, status=503)
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{prepared.file_name}"'
    response["Cache-Control"] = "public, max-age=0, must-revalidate"
    response["ETag"] = quote_etag(prepared.key)
    return response


@require_safe
def photo(request: HttpRequest, digest: str, width: str, suffix: str) -> HttpResponse:
    """One copy of a photo: for everybody once it is published, before that for the people here."""
    public = photo_is_public(digest)
    if not public and not request.user.is_authenticated:
        raise Http404
    try:
        content = photo_bytes(digest, int(width), suffix)
    except FileNotFoundError:
        raise Http404 from None
    response = HttpResponse(content, content_type=SUFFIXES[suffix])
    response["Cache-Control"] = FOREVER if public else "private, no-store"
    response["X-Content-Type-Options"] = "nosniff"
    return response


def _edition_or_404(revision: Revision, size_key: str | None) -> Edition:
    try:
        return edition(revision, size_key or None)
    except UnknownSizeError:
        raise Http404 from None
