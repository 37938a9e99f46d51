"""What the desk refuses: other hosts' names (DNS rebinding), calls from other pages, large and endless uploads.

Sources: OWASP Cheat Sheet Series, Cross-Site Request Forgery Prevention (checking Origin) and HTML5 Security (Web
Sockets), from memory.
"""

from __future__ import annotations

import asyncio
import socket
from concurrent.futures import ThreadPoolExecutor

import pytest

from deflect.desk.guard import LARGEST_UPLOAD, Guard

Headers = dict[str, str]


async def _inner(scope: dict[str, object], receive: object, send: object) -> None:
    await send({"type": "http.response.start", "status": 200, "headers": []})  # type: ignore[operator]
    await send({"type": "http.response.body", "body": b"in"})  # type: ignore[operator]


def status(headers: Headers, method: str = "GET", kind: str = "http") -> tuple[int, Headers]:
    """What the guard answers a request with: status (1008: the socket is closed) and headers."""
    sent: list[dict[str, object]] = []

    async def receive() -> dict[str, object]:
        return {"type": "http.request"}

    async def send(message: dict[str, object]) -> None:
        sent.append(message)

    raw = [(key.lower().encode(), value.encode()) for key, value in headers.items()]
    scope = {"type": kind, "method": method, "path": "/", "headers": raw}
    # In a thread of its own: that of the browser tests has a loop that runs already.
    with ThreadPoolExecutor(1) as aside:
        aside.submit(asyncio.run, Guard(_inner)(scope, receive, send)).result()  # type: ignore[arg-type]
    if sent[0]["type"] == "websocket.close":
        return 1008, {}
    told = {key.decode(): value.decode() for key, value in sent[0]["headers"]}  # type: ignore[attr-defined]
    return int(sent[0]["status"]), told  # type: ignore[call-overload]


@pytest.mark.parametrize("host", ["127.0.0.1:8417", "localhost:8417", "127.0.0.1"])
def test_own_names_are_answered_and_the_browser_is_told_to_ask_nobody_else(host: str) -> None:
    code, headers = status({"Host": host, "Origin": f"http://{host}"})
    assert code == 200
    assert "default-src 'self'" in headers["content-security-policy"]


@pytest.mark.parametrize("host", ["evil.example:8417", "127.0.0.1.evil.example", "", "[::1", "0.0.0.0:8417"])
@pytest.mark.parametrize("kind", ["http", "websocket"])
def test_other_names_that_lead_here_are_refused(host: str, kind: str) -> None:
    assert status({"Host": host}, kind=kind)[0] in (400, 1008)


@pytest.mark.parametrize("origin", ["http://evil.example", "http://localhost:9999", "null"])
def test_other_pages_cannot_call(origin: str) -> None:
    headers = {"Host": "localhost:8417", "Origin": origin}
    assert status(headers)[0] == 403
    assert status(headers, kind="websocket")[0] == 1008


def test_uploads_have_a_size_and_a_limit() -> None:
    own = {"Host": "localhost:8417", "Origin": "http://localhost:8417"}
    assert status(own, "POST")[0] == 411
    assert status(own | {"Content-Length": str(LARGEST_UPLOAD + 1)}, "POST")[0] == 413
    assert status(own | {"Content-Length": "100"}, "POST")[0] == 200


def test_a_taken_port_is_told_before_anything_starts(tmp_path) -> None:  # type: ignore[no-untyped-def]
    from deflect.desk.server import serve
    from deflect.faults import OutputRefused

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(OutputRefused, match="is taken"):
            serve(tmp_path, taken.getsockname()[1], browser=False)
