"""What the page refuses before anything else looks at it: other hosts' names, other pages' calls, large uploads.

Bound to 127.0.0.1 the page cannot be reached from another machine; a page of another site in the same browser still
could call it, by a name of its own that leads here (Host) or directly (Origin).
"""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

HOSTS = ("127.0.0.1", "localhost")
"""Names by which the page may be called."""
LARGEST_UPLOAD = 1_200_000
"""Bytes of a request: a case file of the greatest size, and what the browser wraps it in."""
_POLICY = (
    "default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; frame-src 'self'; object-src 'none'; "
    "base-uri 'self'; form-action 'self'; frame-ancestors 'self'"
)
"""Content Security Policy: the browser itself refuses any request to elsewhere."""


class Guard:
    """Refuses foreign hosts and origins and large bodies, and tells the browser to ask nobody else."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        problem, status = _problem(Headers(scope=scope), scope)
        if problem and scope["type"] == "http":
            await PlainTextResponse(problem, status)(scope, receive, send)
            return
        if problem:
            await send({"type": "websocket.close", "code": 1008, "reason": problem})
            return
        await self.app(scope, receive, _with_policy(send))


def _problem(headers: Headers, scope: Scope) -> tuple[str, int]:
    host = headers.get("host", "")
    if _name(f"//{host}") not in HOSTS:
        return "This page answers to 127.0.0.1 and localhost only.", 400
    origin = headers.get("origin")
    if origin is not None and urlsplit(origin).netloc != host:
        return "This page takes no calls from other pages.", 403
    if scope["type"] == "http" and scope["method"] not in ("GET", "HEAD"):
        length = headers.get("content-length", "")
        if not length.isdigit():
            return "The size of the upload is not told.", 411
        if int(length) > LARGEST_UPLOAD:
            return "The file is too large for a case file.", 413
    return "", 200


def _name(url: str) -> str:
    try:
        return urlsplit(url).hostname or ""
    except ValueError:
        return ""


def _with_policy(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            headers["Content-Security-Policy"] = _POLICY
            headers["X-Content-Type-Options"] = "nosniff"
            headers["Referrer-Policy"] = "no-referrer"
        await send(message)

    return sending
