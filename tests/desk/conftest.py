"""The desk in a real browser: one server and one headless Chromium for all tests of a worker."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from desk_bench import PATIENCE, Desk
from playwright.sync_api import Browser, Page, expect, sync_playwright

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
# Nothing but the page: a browser that looks nothing up, and that runs as root too.
_QUIET = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
          "--disable-component-update", "--disable-sync")  # fmt: skip
_START = "from deflect.cli import main; main()"
WIDE, HIGH = 1280, 720
# What needs no solving is waited for so long, ms: at once on a quiet machine, and a busy one gets its time.
SOON = 60_000


@pytest.fixture(scope="session")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """The command, started as a person starts it."""
    base = tmp_path_factory.mktemp("desk")
    folder, started_in = base / "saved", base / "here"
    started_in.mkdir()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    words = ["desk", "--no-browser", "--port", str(port), "--folder", str(folder)]
    # Nothing of the test run reaches the server: NiceGUI would take its environment for a test of its own.
    inherited = {k: v for k, v in os.environ.items() if not k.startswith(("PYTEST", "NICEGUI"))}
    with (base / "log").open("wb") as log:
        server = subprocess.Popen([sys.executable, "-c", _START, *words], cwd=started_in, env=inherited, stderr=log)
        address = f"http://127.0.0.1:{port}/"
        try:
            _wait_for(address, server)
            yield Desk(address, folder, started_in)
        finally:
            server.terminate()
            server.wait(20)


def _wait_for(address: str, server: subprocess.Popen[bytes]) -> None:
    for _ in range(600):
        assert server.poll() is None, "the desk did not start"
        try:
            urllib.request.urlopen(address, timeout=5).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise AssertionError("the desk does not answer")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Headless Chromium of this machine."""
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine: the pages are tested where there is one")
    expect.set_options(timeout=SOON)
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=CHROMIUM, args=list(_QUIET))
        yield chromium
        chromium.close()


@pytest.fixture
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page of a fresh visitor; whatever goes wrong in it fails the test; a picture of its end is kept where
    DEFLECT_SHOTS names a folder."""
    context = browser.new_context(viewport={"width": WIDE, "height": HIGH})
    context.set_default_timeout(PATIENCE)
    opened, wrong = context.new_page(), []
    opened.on("pageerror", lambda problem: wrong.append(str(problem)))
    yield opened
    if shots := os.environ.get("DEFLECT_SHOTS"):
        opened.screenshot(path=Path(shots) / f"{request.node.name}.png")
    context.close()
    assert not wrong, wrong
