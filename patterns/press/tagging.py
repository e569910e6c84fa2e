"""Finishing touches on the tags of a PDF, where the printer leaves something to a reader's guess.

Header cells are told apart as heads of columns and of rows (PDF/UA-1, ISO 14289-1, table headers), and
the furniture of the page margins is marked as artifact instead of as content outside the tree.
"""

from __future__ import annotations

import re
from typing import Any, Final

import pydyf

__all__ = ["finish_tags"]

_REFERENCE: Final = re.compile(rb"^(\d+) 0 R$")


def finish_tags(document: Any, pdf: pydyf.PDF) -> None:
    """Change the structure in place, just before the PDF is written."""
    root = _pointed(pdf, pdf.catalog.get("StructTreeRoot"))
    if root is None:
        return
    _tell_headers(pdf)
    _mark_artifacts(pdf, root)


def _tell_headers(pdf: pydyf.PDF) -> None:
    """Give every header cell its scope: column in a table's head, row elsewhere."""
    for element in pdf.objects:
        if _kind(element) == "/TH":
            row = _pointed(pdf, element["P"])
            group = None if row is None else _pointed(pdf, row["P"])
            column = group is not None and _kind(group) == "/THead"
            element["A"]["Scope"] = "/Column" if column else "/Row"


def _mark_artifacts(pdf: pydyf.PDF, root: Any) -> None:
    """Mark as artifact what is drawn on a page and hangs nowhere in the tree of the document."""
    in_tree = _reachable(pdf, root)
    parents = _pointed(pdf, root["ParentTree"])["Nums"]
    by_page = dict(zip(parents[::2], parents[1::2], strict=True))
    for page in pdf.objects:
        if not (isinstance(page, pydyf.Dictionary) and page.get("Type") == "/Page"):
            continue
        owners = by_page.get(page.get("StructParents"))
        if not isinstance(owners, list):
            continue
        loose = [place for place, owner in enumerate(owners) if _number(owner) not in in_tree]
        _unmark(_pointed(pdf, page["Contents"]), set(loose))
        for place in loose:
            owners[place] = "null"


def _unmark(stream: Any, loose: set[int]) -> None:
    """A marked stretch is "/Tag", its properties, "BDC"; an artifact has no properties and "BMC"."""
    lines = stream.stream
    for place in range(len(lines) - 2, 0, -1):
        properties = lines[place]
        if isinstance(properties, pydyf.Dictionary) and properties.get("MCID") in loose:
            lines[place - 1 : place + 2] = ["/Artifact", b"BMC"]


def _reachable(pdf: pydyf.PDF, root: Any) -> set[int]:
    """Numbers of all objects that hang in the tree."""
    found: set[int] = set()
    waiting = [root]
    while waiting:
        children = waiting.pop().get("K", ())
        for child in children if isinstance(children, list) else [children]:
            number = _number(child)
            if number is not None and number not in found:
                found.add(number)
                if isinstance(pdf.objects[number], pydyf.Dictionary):
                    waiting.append(pdf.objects[number])
    return found


def _kind(element: Any) -> str:
    return str(element.get("S", "")) if isinstance(element, pydyf.Dictionary) else ""


def _pointed(pdf: pydyf.PDF, reference: Any) -> Any:
    """The object that a reference names, or None."""
    number = _number(reference)
    return None if number is None else pdf.objects[number]


def _number(reference: Any) -> int | None:
    if not isinstance(reference, bytes | str):
        return None
    match = _REFERENCE.match(reference if isinstance(reference, bytes) else reference.encode())
    return int(match[1]) if match else None
