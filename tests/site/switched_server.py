"""A server of a folder at an address that stays, which can be switched off, on, and to a crawl."""

import functools
import http.server
import threading
import time
from pathlib import Path


class _Server(http.server.ThreadingHTTPServer):
    allow_reuse_address = True
    daemon_threads = True
    # page and worker ask for many files at once; one that finds no place in the queue would wait for a minute
    request_queue_size = 128


class SwitchedServer:
    """Serves to this machine only."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.delay_s = 0.0
        self.refused: set[str] = set()
        """Paths that are not given out."""
        self._port = 0
        self._server: http.server.ThreadingHTTPServer | None = None
        self._thread: threading.Thread | None = None
        self.on()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self._port}"

    def on(self) -> None:
        owner = self

        class Handler(http.server.SimpleHTTPRequestHandler):
            def log_message(self, *_: object) -> None:
                """Say nothing."""

            def end_headers(self) -> None:
                # common practice of forges, no source: a browser need not ask again for ten minutes
                self.send_header("Cache-Control", "max-age=600")
                super().end_headers()

            def do_GET(self) -> None:
                time.sleep(owner.delay_s)
                if self.path in owner.refused:
                    self.send_error(404)
                else:
                    super().do_GET()

        handler = functools.partial(Handler, directory=str(self.folder))
        self._server = _Server(("127.0.0.1", self._port), handler)
        self._port = self._server.server_port
        self._thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()

    def off(self) -> None:
        if self._server is not None and self._thread is not None:
            self._server.shutdown()
            self._server.server_close()
            self._thread.join()
            self._server = None
