"""Serve the built site on this machine."""

import argparse
import os
import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any


class Handler(SimpleHTTPRequestHandler):
    """Static files with the types that browsers insist on, and nothing kept in a cache unasked."""

    protocol_version = "HTTP/1.1"
    extensions_map = {  # noqa: RUF012 - the base class has it as an instance variable
        **SimpleHTTPRequestHandler.extensions_map,
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
        ".zip": "application/zip",
        ".svg": "image/svg+xml",
        ".webmanifest": "application/manifest+json",
    }

    def end_headers(self) -> None:
        """Add the header that makes a browser ask whether its copy is still good."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing for each request."""


class Server(ThreadingHTTPServer):
    """A server that takes a port only while nobody else has it, and is quiet about a browser that went away."""

    allow_reuse_address = os.name != "nt"  # on Windows it would share a port that is taken

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Tell an error, unless the other side hung up: browsers do, on each reload."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


def server(folder: Path, port: int) -> Server:
    """Return a server for a folder on 127.0.0.1; port 0 takes any free one."""
    return Server(("127.0.0.1", port), partial(Handler, directory=str(folder)))


def port(arguments: list[str]) -> int:
    """Return the port that the command's arguments ask for; what makes no sense ends it."""
    parser = argparse.ArgumentParser(prog="build.py serve")
    parser.add_argument("--port", type=int, default=8000, choices=range(65536), metavar="N")
    return int(parser.parse_args(arguments).port)


def main(folder: Path, first: int) -> int:
    """Serve until interrupted; if the port is taken, try the next ones."""
    for each in [*range(first, min(first + 10, 65536)), 0]:
        try:
            httpd = server(folder, each)
            break
        except OSError:
            continue
    print(f"Thistledown is at http://127.0.0.1:{httpd.server_address[1]}/  (Ctrl-C ends it)", flush=True)
    try:
        httpd.serve_forever()
    except KeyboardInterrupt:
        print()
    return 0
