"""How long the reading pages take, alone and while many ask and a plan is being worked out.

    python3 tasks.py bench pages [--readings N] [--phones N] [--seconds S] [--seed N]

A book of so many readings (the invented shop of `benchmarks/standing.py`) is served by `trued open` in a process of its
own. Each page is first asked alone; then so many phones read page after page, each resting a second between two: first
by themselves, then while one job after the other is planned. It prints the median alone and the 95th percentile of the
crowd, counts what was not answered, and fails nothing.
"""

from __future__ import annotations

import argparse
import gzip
import http.client
import os
import re
import secrets
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from random import Random
from statistics import median, quantiles
from urllib.parse import urlencode, urlsplit

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.plan_job import job_text
from benchmarks.standing import make_book

PAGES = ("/", "/checks", "/standing/sled.fence-angle@0", "/checks/five-cut", "/changed", "/withdraw", "/jobs")
GOAL_TIMES, GOAL_MS = 8.0, 150.0
REST_S = (0.5, 1.5)


def ask(address: str, path: str) -> tuple[float, int]:
    """One page as a phone asks for it, that keeps no connection; seconds and status."""
    begin = time.perf_counter()
    parts = urlsplit(address)
    there = http.client.HTTPConnection(parts.hostname or "", parts.port, timeout=60)
    try:
        there.request("GET", path, headers={"Accept-Encoding": "gzip"})
        answer = there.getresponse()
        body = answer.read()
        if answer.status != 200 and answer.headers.get("content-encoding") == "gzip":
            print(f"{path}: {answer.status} {gzip.decompress(body)[-600:]!r}", file=sys.stderr)
        return time.perf_counter() - begin, answer.status
    finally:
        there.close()


def send_jobs(address: str, parts: int, seed: int, until: float, took: list[float]) -> None:
    """Send jobs as the form does, one when the plan of the last has come."""
    while time.perf_counter() < until:
        took.append(send_job(address, parts, seed + len(took)))


def send_job(address: str, parts: int, seed: int) -> float:
    """Send one and wait for its plan, s."""
    begin, url = time.perf_counter(), urlsplit(address)
    form = urlencode({"text": job_text(parts, seed), "kerf": "1/8", "key": secrets.token_hex(16)})
    there = http.client.HTTPConnection(url.hostname or "", url.port, timeout=300)
    there.request("POST", "/jobs", form, {"Content-Type": "application/x-www-form-urlencoded"})
    answer = there.getresponse()
    answer.read()
    if answer.status != 303:
        print(f"the plan was answered {answer.status}")
    return time.perf_counter() - begin


def alone(address: str, times: int = 9) -> dict[str, float]:
    """The median of each page asked by itself."""
    return {path: median(ask(address, path)[0] for _ in range(times)) for path in PAGES}


def crowd(address: str, phones: int, until: float, seed: int) -> dict[str, list[tuple[float, int]]]:
    """What so many phones got until then, by page."""
    got: dict[str, list[tuple[float, int]]] = {path: [] for path in PAGES}

    def read(number: int) -> None:
        rng = Random(seed * 1000 + number)  # noqa: S311 - a benchmark, not a secret
        time.sleep(rng.uniform(0, REST_S[1]))
        while time.perf_counter() < until:
            path = rng.choice(PAGES)
            try:
                got[path].append(ask(address, path))
            except OSError:
                got[path].append((60.0, 0))
            time.sleep(rng.uniform(*REST_S))

    threads = [threading.Thread(target=read, args=(number,)) for number in range(phones)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    return got


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--readings", type=int, default=10_000)
    parser.add_argument("--phones", type=int, default=20)
    parser.add_argument("--seconds", type=float, default=15.0)
    parser.add_argument("--parts", type=int, default=120)
    parser.add_argument("--seed", type=int, default=20261201)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "shop.trued"
        make_book(book, asked.readings, asked.seed)
        served = subprocess.Popen(
            [sys.executable, "-m", "trued", "open", "--book", str(book), "--port", "0"],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )
        try:
            line = served.stdout.readline() if served.stdout else ""
            address = (re.search(r"http://\S+", line) or [""])[0].rstrip("/")
            _tell(address, asked)
        finally:
            served.terminate()
            served.wait(10)


def _tell(address: str, asked: argparse.Namespace) -> None:
    for path in PAGES:
        if (status := ask(address, path)[1]) != 200:
            print(f"{path} answers {status}")
    before = alone(address)
    quiet = crowd(address, asked.phones, time.perf_counter() + asked.seconds, asked.seed)
    took: list[float] = []
    until = time.perf_counter() + asked.seconds
    plan = threading.Thread(target=send_jobs, args=(address, asked.parts, asked.seed, until, took))
    plan.start()
    busy = crowd(address, asked.phones, until, asked.seed + 1)
    plan.join()
    plans = f"{len(took)} plans of {asked.parts} parts, {median(took):.1f} s each"
    print(f"{asked.readings:,} readings, {asked.phones} phones; {plans}")
    print(f"{'page':32}{'alone ms':>10}{'p95, crowd':>12}{'and a plan':>12}{'times alone':>13}")
    for path in PAGES:
        crowded, planned = p95(quiet[path]), p95(busy[path])
        times = planned / before[path]
        print(f"{path:32}{before[path] * 1e3:10.1f}{crowded * 1e3:12.1f}{planned * 1e3:12.1f}{times:13.1f}")
    answers = [one for kind in (quiet, busy) for rows in kind.values() for one in rows]
    lost = sum(status != 200 for _, status in answers)
    rows = [one for got in busy.values() for one in got]
    print(
        f"all pages beside a plan: p95 {p95(rows) * 1e3:.1f} ms (goal {GOAL_MS:.0f}, and {GOAL_TIMES:.0f} times alone)"
    )
    print(f"{len(answers)} pages asked, {lost} not answered")


def p95(rows: list[tuple[float, int]]) -> float:
    """The 95th percentile of the times, s."""
    times = [took for took, _ in rows]
    return quantiles(times, n=20)[-1] if len(times) > 1 else (times or [0.0])[0]


if __name__ == "__main__":
    main()
