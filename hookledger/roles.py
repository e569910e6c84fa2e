"""Who may do what: one table, and the one place that asks it.

`ROLES` names every URL of the house. A URL that is not in it is closed to
everybody. `SIGHTS` names things on a page that not every role may see
(`may("see:costs")`). Views carry no decorators of their own.
"""

from collections.abc import Callable, Mapping
from typing import Any, Final

from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase
from django_htmx.http import HttpResponseClientRedirect

from workroom.models import Role

OWNER, DESIGNER, SELLER, ASSISTANT = Role.OWNER, Role.DESIGNER, Role.SELLER, Role.ASSISTANT


class _Everybody(frozenset[Role]):
    """Its own kind, so that a row left empty by mistake is closed, not open."""


PUBLIC: Final = _Everybody()
"""Open to everybody, signed in or not."""

ANYONE_HERE: Final = frozenset(Role)
"""Open to everybody who has signed in."""

STOCK_HANDS: Final = frozenset({OWNER, DESIGNER, ASSISTANT})
SHAPE_EYES: Final = frozenset({OWNER, DESIGNER, SELLER})
"""Who may book on the stock book and change what is known of yarns. Sellers read it."""

ROLES: Final[Mapping[str, frozenset[Role]]] = {
    # house
    "healthz": PUBLIC,
    "desk": ANYONE_HERE,
    # workroom
    "workroom:sign_in": PUBLIC,
    "workroom:sign_out": ANYONE_HERE,
    "workroom:welcome": PUBLIC,
    "workroom:logo": PUBLIC,
    "workroom:accent": PUBLIC,
    "workroom:me": ANYONE_HERE,
    "workroom:me_password": ANYONE_HERE,
    "workroom:people": frozenset({OWNER}),
    "workroom:person_add": frozenset({OWNER}),
    "workroom:person_roles": frozenset({OWNER}),
    "workroom:person_link": frozenset({OWNER}),
    "workroom:person_gone": frozenset({OWNER}),
    "workroom:studio": frozenset({OWNER}),
    # public pages
    "public:home": PUBLIC,
    "public:pattern": PUBLIC,
    "public:paper": PUBLIC,
    "public:photo": PUBLIC,
    # reviews: the link and its browser are asked for by the pages themselves
    "review:open": PUBLIC,
    "review:draft": PUBLIC,
    "review:remark": PUBLIC,
    "review:own_remark": PUBLIC,
    "review:sheet": PUBLIC,
    "review:paper": PUBLIC,
    "review:photo": PUBLIC,
    "review:report": PUBLIC,
    "review:report_photos": PUBLIC,
    "review:finish": PUBLIC,
    # yarns
    "yarns:shelf": ANYONE_HERE,
    "yarns:shelf_export": ANYONE_HERE,
    "yarns:shade_card": ANYONE_HERE,
    "yarns:shade_picture": ANYONE_HERE,
    "yarns:book": ANYONE_HERE,
    "yarns:book_export": ANYONE_HERE,
    "yarns:yarns": ANYONE_HERE,
    "yarns:yarn": ANYONE_HERE,
    "yarns:places": STOCK_HANDS,
    "yarns:lot": ANYONE_HERE,
    "yarns:yarn_add": STOCK_HANDS,
    "yarns:yarn_edit": STOCK_HANDS,
    "yarns:yarn_measured": STOCK_HANDS,
    "yarns:colour_add": STOCK_HANDS,
    "yarns:colour_edit": STOCK_HANDS,
    "yarns:supply_add": STOCK_HANDS,
    "yarns:supply_edit": STOCK_HANDS,
    "yarns:place_edit": STOCK_HANDS,
    "yarns:place_delete": STOCK_HANDS,
    "yarns:receive": STOCK_HANDS,
    "yarns:parcel": STOCK_HANDS,
    "yarns:parcel_entry": STOCK_HANDS,
    "yarns:parcel_add": STOCK_HANDS,
    "yarns:parcel_close": STOCK_HANDS,
    "yarns:parcel_reopen": STOCK_HANDS,
    "yarns:parcel_take_back": STOCK_HANDS,
    "yarns:damp_air": ANYONE_HERE,
    "yarns:lot_photo": ANYONE_HERE,
    "yarns:lot_photo_change": STOCK_HANDS,
    "yarns:lot_edit": STOCK_HANDS,
    "yarns:lot_move": STOCK_HANDS,
    "yarns:lot_weigh": STOCK_HANDS,
    "yarns:lot_issue": STOCK_HANDS,
    "yarns:lot_give_back": STOCK_HANDS,
    "yarns:lot_correct": STOCK_HANDS,
    "yarns:lot_write_off": STOCK_HANDS,
    "yarns:lot_undo": STOCK_HANDS,
    "yarns:shopping": STOCK_HANDS,
    "yarns:shopping_order": STOCK_HANDS,
    "yarns:restock_rule": STOCK_HANDS,
    "yarns:purchases": STOCK_HANDS,
    "yarns:purchase": STOCK_HANDS,
    "yarns:purchase_list": STOCK_HANDS,
    "yarns:purchase_add": STOCK_HANDS,
    "yarns:purchase_receive": STOCK_HANDS,
    "yarns:purchase_line": STOCK_HANDS,
    "yarns:lists": STOCK_HANDS,
    "yarns:lists_take_in": STOCK_HANDS,
    "yarns:everything_xlsx": frozenset({OWNER, DESIGNER}),
    "yarns:everything_zip": frozenset({OWNER, DESIGNER}),
    "yarns:labels": STOCK_HANDS,
    "yarns:stocktakes": STOCK_HANDS,
    "yarns:stocktake": STOCK_HANDS,
    "yarns:stocktake_sheet": STOCK_HANDS,
    "yarns:stocktake_place": STOCK_HANDS,
    "yarns:stocktake_count": STOCK_HANDS,
    "yarns:stocktake_forget": STOCK_HANDS,
    "yarns:stocktake_post": STOCK_HANDS,
    "yarns:stocktake_drop": STOCK_HANDS,
    # patterns
    "patterns:list": frozenset({OWNER, DESIGNER}),
    "patterns:new": frozenset({OWNER, DESIGNER}),
    "patterns:import_old": frozenset({OWNER, DESIGNER}),
    "patterns:checks": frozenset({OWNER, DESIGNER}),
    "patterns:check_page": frozenset({OWNER, DESIGNER}),
    "patterns:sheet": frozenset({OWNER, DESIGNER}),
    "patterns:sheet_pdf": frozenset({OWNER, DESIGNER}),
    "patterns:chart": frozenset({OWNER, DESIGNER}),
    "patterns:chart_svg": frozenset({OWNER, DESIGNER}),
    "patterns:reviews": frozenset({OWNER, DESIGNER}),
    "patterns:review_invite": frozenset({OWNER, DESIGNER}),
    "patterns:reviews_close": frozenset({OWNER, DESIGNER}),
    "patterns:review_numbers": frozenset({OWNER, DESIGNER}),
    "patterns:review_person": frozenset({OWNER, DESIGNER}),
    "patterns:review_report": frozenset({OWNER, DESIGNER}),
    "patterns:review_remark": frozenset({OWNER, DESIGNER}),
    "patterns:form": SHAPE_EYES,
    "patterns:form_state": SHAPE_EYES,
    "patterns:form_stop": SHAPE_EYES,
    "patterns:form_data": SHAPE_EYES,
    "patterns:form_still": SHAPE_EYES,
    "patterns:form_glb": SHAPE_EYES,
    "patterns:measures": frozenset({OWNER, DESIGNER}),
    "patterns:measures_take": frozenset({OWNER, DESIGNER}),
    "patterns:text": frozenset({OWNER, DESIGNER}),
    "patterns:text_file": frozenset({OWNER, DESIGNER}),
    "patterns:edit": frozenset({OWNER, DESIGNER}),
    "patterns:check": frozenset({OWNER, DESIGNER}),
    "patterns:facts": frozenset({OWNER, DESIGNER}),
    "patterns:materials": frozenset({OWNER, DESIGNER}),
    "patterns:photos": frozenset({OWNER, DESIGNER}),
    "patterns:photo_change": frozenset({OWNER, DESIGNER}),
    "patterns:preview": frozenset({OWNER, DESIGNER}),
    "patterns:publish": frozenset({OWNER, DESIGNER}),
    "patterns:unpublish": frozenset({OWNER, DESIGNER}),
    # orders
    "orders:overview": ANYONE_HERE,
    "orders:rates": frozenset({OWNER, SELLER}),
    "orders:labels": frozenset({OWNER, SELLER}),
    "orders:pieces": frozenset({OWNER, DESIGNER, SELLER}),
    "orders:piece": frozenset({OWNER, DESIGNER, SELLER}),
    "orders:piece_new": frozenset({OWNER, SELLER}),
    "orders:piece_edit": frozenset({OWNER, SELLER}),
    "orders:piece_price": frozenset({OWNER, SELLER}),
    "orders:batches": ANYONE_HERE,
    "orders:batch": ANYONE_HERE,
    "orders:batch_sheet": ANYONE_HERE,
    "orders:batch_tags": frozenset({OWNER, SELLER, ASSISTANT}),
    "orders:batch_new": frozenset({OWNER, SELLER}),
    "orders:batch_edit": frozenset({OWNER, SELLER}),
    "orders:batch_start": frozenset({OWNER, SELLER}),
    "orders:batch_reserve": frozenset({OWNER, SELLER}),
    "orders:batch_take": frozenset({OWNER, SELLER, ASSISTANT}),
    "orders:batch_time": ANYONE_HERE,
    "orders:batch_time_out": ANYONE_HERE,
    "orders:batch_finish": frozenset({OWNER, SELLER}),
    "orders:batch_cancel": frozenset({OWNER, SELLER}),
    "orders:batch_lesson": frozenset({OWNER, SELLER}),
    "orders:timer": ANYONE_HERE,
    "orders:timer_start": ANYONE_HERE,
    "orders:timer_pause": ANYONE_HERE,
    "orders:timer_stop": ANYONE_HERE,
    "orders:timer_discard": ANYONE_HERE,
    "orders:fairs": frozenset({OWNER, SELLER}),
    "orders:fair": frozenset({OWNER, SELLER}),
    "orders:fair_new": frozenset({OWNER, SELLER}),
    "orders:fair_strike": frozenset({OWNER, SELLER}),
    "orders:fair_plan": frozenset({OWNER, SELLER}),
    "orders:fair_result": frozenset({OWNER, SELLER}),
    "orders:fair_edit": frozenset({OWNER, SELLER}),
}

SIGHTS: Final[Mapping[str, frozenset[Role]]] = {
    "see:costs": frozenset({OWNER, DESIGNER, SELLER}),
    "see:wages": frozenset({OWNER, SELLER}),
    "see:customers": frozenset({OWNER, SELLER}),
}


def allows(name: str, held: frozenset[Role]) -> bool:
    """Whether somebody who holds these roles (none: a stranger) may do this."""
    allowed = ROLES.get(name, SIGHTS.get(name))
    if allowed is None:
        return False
    return allowed is PUBLIC or bool(allowed & held)


class May:
    """The table as a request sees it: `request.may("patterns:edit")`.

    In a template `{% if may.patterns.edit %}` asks the same.
    """

    def __init__(self, held: frozenset[Role]) -> None:
        self.held = held

    def __call__(self, name: str) -> bool:
        return allows(name, self.held)

    do_not_call_in_templates = True

    def __getitem__(self, name: str) -> "bool | _Space":
        return allows(name, self.held) if name in ROLES else _Space(self, name)


class _Space:
    """One namespace of the table: the `patterns` in `may.patterns.edit`."""

    def __init__(self, may: May, namespace: str) -> None:
        self.may, self.namespace = may, namespace

    def __getitem__(self, name: str) -> bool:
        return self.may(f"{self.namespace}:{name}")


def roles_of(request: HttpRequest) -> frozenset[Role]:
    return request.user.roles if request.user.is_authenticated else frozenset()


class RolesMiddleware(LoginRequiredMiddleware):
    """Asks the table before any view runs. What the table does not list is refused."""

    def process_view(
        self,
        request: HttpRequest,
        view_func: Callable[..., HttpResponseBase],
        view_args: tuple[Any, ...],
        view_kwargs: dict[str, Any],
    ) -> HttpResponseBase | None:
        held = roles_of(request)
        setattr(request, "may", May(held))  # noqa: B010 - typed in workroom.http.StaffRequest
        name = request.resolver_match.view_name if request.resolver_match else ""
        if allows(name, held):
            return None
        if request.user.is_authenticated or name not in ROLES:
            raise PermissionDenied
        return self.to_sign_in(request, view_func)

    def to_sign_in(
        self, request: HttpRequest, view_func: Callable[..., HttpResponseBase]
    ) -> HttpResponseBase:
        """A redirect; htmx loads the whole page, or the form would land in a table cell."""
        response = self.handle_no_permission(request, view_func)
        if getattr(request, "htmx", False):
            return HttpResponseClientRedirect(response["Location"])
        return response
