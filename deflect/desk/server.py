"""The page's server: on 127.0.0.1 only, behind its guard, with its own files and none of others."""

from __future__ import annotations

import socket
from pathlib import Path

from nicegui import app, ui

from deflect.desk.guard import LARGEST_UPLOAD, Guard
from deflect.desk.lesson.routes import lesson_routes
from deflect.desk.pages import desk_page
from deflect.faults import OutputRefused

ADDRESS = "127.0.0.1"
USUAL_PORT = 8417
# How long a page that lost its connection is kept as it was, s: a busy machine, a lid that was closed for a moment.
_BACK = 60.0
_STATIC = Path(__file__).parent / "static"

__all__ = ["ADDRESS", "LARGEST_UPLOAD", "USUAL_PORT", "serve"]


def serve(folder: Path, port: int = USUAL_PORT, browser: bool = True) -> None:
    """Serve the desk until it is stopped; files are written into ``folder`` only.

    Raises OutputRefused where the port is taken or the folder is a file.
    """
    if folder.exists() and not folder.is_dir():
        raise OutputRefused(f"{folder} is a file, not a folder: name a folder for what is saved")
    _refuse_taken(port)
    app.add_middleware(Guard)
    app.add_static_files("/desk", _STATIC)

    lesson_routes()

    @ui.page("/", title="deflect: the desk")
    def desk() -> None:
        desk_page(folder)

    ui.run(
        host=ADDRESS,
        port=port,
        title="deflect: the desk",
        show=browser,
        reload=False,
        dark=None,
        reconnect_timeout=_BACK,
        show_welcome_message=False,
        tailwind=True,
    )


def _refuse_taken(port: int) -> None:
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((ADDRESS, port))
        except OSError:
            raise OutputRefused(f"port {port} is taken: choose another with --port") from None
