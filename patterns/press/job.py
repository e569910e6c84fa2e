"""What goes into the press, how it travels through the pipe, and what can go wrong. No Django here."""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import IO

LENGTH = struct.Struct(">Q")
SCHEME = "press"
"""Addresses in the HTML: press://photo/NAME for what the job carries, press://font/NAME for a face."""


class PressError(RuntimeError):
    """A paper that could not be printed."""


class PaperTooLongError(PressError):
    """The press was stopped because the job took longer than its limit."""

    def __init__(self, seconds: float) -> None:
        super().__init__(f"The PDF took longer than {seconds:g} seconds and was stopped.")
        self.seconds = seconds


class PaperFailedError(PressError):
    """The press could not make the paper: out of memory, or HTML that it can't lay out."""

    def __init__(self, reason: str) -> None:
        super().__init__(f"The PDF could not be made: {reason}")
        self.reason = reason


@dataclass(frozen=True, slots=True)
class PrintJob:
    """HTML and style sheet as text, pictures as bytes by name, the PDF variant ("" for none)."""

    html: str
    css: str
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    variant: str = "pdf/ua-1"


def send(pipe: IO[bytes], *blocks: bytes) -> None:
    """Write blocks, each with its length before it."""
    for block in blocks:
        pipe.write(LENGTH.pack(len(block)))
        pipe.write(block)
    pipe.flush()


def receive(pipe: IO[bytes]) -> bytes:
    """One block. Raises EOFError when the other side is gone."""
    length = pipe.read(LENGTH.size)
    if len(length) < LENGTH.size:
        raise EOFError
    (size,) = LENGTH.unpack(length)
    block = pipe.read(size)
    if len(block) < size:
        raise EOFError
    return block


def packed(job: PrintJob) -> tuple[bytes, ...]:
    """The job as blocks: a head that names the pictures, then the pictures."""
    head = {
        "html": job.html,
        "css": job.css,
        "variant": job.variant,
        "pictures": list(job.pictures),
    }
    return (json.dumps(head).encode(), *job.pictures.values())


def unpacked(pipe: IO[bytes]) -> PrintJob:
    """Read one job from the pipe."""
    head = json.loads(receive(pipe))
    pictures = {name: receive(pipe) for name in head["pictures"]}
    return PrintJob(head["html"], head["css"], pictures, head["variant"])
