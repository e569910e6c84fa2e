"""The check while one types, over HTTP: 60 rounds posted to a running workroom, another count in each.

As a ratio to `/healthz` of the same server in the same run, and as milliseconds (aim: under 50 at p95).
No text comes twice, so that nothing kept from before is measured. Several passes; the quietest is told,
with the processor's time that the server took for one check, which other work on the machine hardly moves.
"""

from __future__ import annotations

import http.cookiejar
import os
import platform
import re
import statistics
import subprocess
import tempfile
import time
import urllib.parse
import urllib.request
from collections.abc import Callable
from pathlib import Path

PORT = 8197
SITE = f"http://127.0.0.1:{PORT}"
RUNS = 60
PASSES = 4
ROOT = Path(__file__).resolve().parent.parent


def rounds(count: int) -> str:
    """A disc of twelve rounds, then plain rounds."""
    lines = ["Body", "Rnd 1: 6 sc in magic ring. (6 sc)", "Rnd 2: 2 sc in each st around. (12 sc)"]
    lines += [f"Rnd {n}: (Sc in next {n - 2}, 2 sc in next) 6 times. ({6 * n} sc)" for n in range(3, 13)]
    lines += [f"Rnd {n}: Sc in each st around. (72 sc)" for n in range(13, count + 1)]
    return "\n".join(lines) + "\n"


def milliseconds(act: Callable[[int], object]) -> list[float]:
    times = []
    for run in range(RUNS):
        start = time.perf_counter()
        act(run)
        times.append((time.perf_counter() - start) * 1000)
    return sorted(times)


def first_link(server: subprocess.Popen[str]) -> str:
    """The designer's one-time link, from what the server prints when it starts."""
    if server.stdout is not None:
        for line in server.stdout:
            if found := re.search(r"http://\S+/welcome/\S+", line):
                return found[0]
    raise SystemExit("script/serve ended before it printed its links.")


def sign_in(link: str) -> tuple[urllib.request.OpenerDirector, http.cookiejar.CookieJar]:
    jar = http.cookiejar.CookieJar()
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
    opener.open(link).read()
    post(opener, jar, link, {})
    return opener, jar


def post(
    opener: urllib.request.OpenerDirector, jar: http.cookiejar.CookieJar, url: str, fields: dict[str, str]
) -> bytes:
    token = next(cookie.value for cookie in jar if "csrf" in cookie.name)
    body = urllib.parse.urlencode({**fields, "csrfmiddlewaretoken": str(token)}).encode()
    request = urllib.request.Request(url, data=body, headers={"Referer": SITE})  # noqa: S310 - our own server
    return bytes(opener.open(request).read())


def processor_ms(root: int) -> float:
    """Processor time of a process and all below it, in milliseconds (Linux)."""
    parents: dict[int, int] = {}
    ticks: dict[int, int] = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue  # it has just ended
        number = int(stat.parent.name)
        parents[number], ticks[number] = int(fields[1]), int(fields[11]) + int(fields[12])
    ours = {root}
    while more := {child for child, parent in parents.items() if parent in ours} - ours:
        ours |= more
    return sum(ticks.get(number, 0) for number in ours) * 1000 / os.sysconf("SC_CLK_TCK")


def measure(link: str, server: int) -> None:
    opener, jar = sign_in(link)
    url = f"{SITE}/desk/patterns/harbour-coasters/check/"
    text = rounds(60)
    print(f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores")
    found = []
    for number in range(PASSES):
        floor = milliseconds(lambda _run: opener.open(f"{SITE}/healthz").read())
        before = processor_ms(server)
        check = milliseconds(
            lambda run, start=100 + RUNS * number: post(  # type: ignore[misc]  # a default, not an argument
                opener, jar, url, {"text": text.replace("(72", f"({start + run}", 1), "seen": "0"}
            )
        )
        found.append((check[int(RUNS * 0.95)], statistics.median(check), statistics.median(floor)))
        p95, median, least = found[-1]
        spent = (processor_ms(server) - before) / RUNS
        load = os.getloadavg()[0]
        print(
            f"  median {median:.1f} ms, p95 {p95:.1f} ms, healthz {least:.1f} ms, processor {spent:.1f} ms, "
            f"load {load:.1f}"
        )
    p95, median, least = min(found)
    print(f"60 rounds over HTTP: median {median:.1f} ms, p95 {p95:.1f} ms (aim: under 50)")
    print(f"median / median of healthz: {median / least:.1f}")


def main() -> None:
    with tempfile.TemporaryDirectory() as data:
        server = subprocess.Popen(  # noqa: S603 - our own script
            [str(ROOT / "script/serve"), "--port", str(PORT)],
            env={**os.environ, "HOOKLEDGER_DATA": data},
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            link = first_link(server)
            time.sleep(3)  # the links stand before the workers do
            measure(link, server.pid)
        finally:
            server.terminate()
            server.wait(20)


if __name__ == "__main__":
    main()
