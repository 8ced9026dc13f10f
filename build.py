#!/usr/bin/env python3
"""Build, serve and test Thistledown.

    python3 build.py [build ADDRESS]  build the site into _site/; with the address it will have, previews work
    python3 build.py serve            build it, serve it on this machine, print the address
    python3 build.py test [ARGS...]   check everything; with ARGS run pytest alone with them
    python3 build.py bench [--json]   measure and print figures
    python3 build.py fuzz [MINUTES]   feed the readers with hostile input (5 minutes)
    python3 build.py pictures         take the README's pictures and the preview anew
    python3 build.py lock             write anew which package files may be installed, by hash

Needs Python 3.11 or newer and nothing else: the first run makes .venv and fetches what is pinned in pyproject.toml and
site_src/package-lock.json; test also fetches a browser, where there is none, and flights to read; later runs fetch
nothing.
"""

# Up to the check of the version this must run under any Python 3, to say what is needed: so the types are in quotes.

import io
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent


def main(arguments: "list[str]") -> int:
    """Run a command inside the project's own environment; return its exit status."""
    if sys.version_info < (3, 11):
        print(f"Thistledown needs Python 3.11 or newer; this is {sys.version.split()[0]}.", file=sys.stderr)
        return 1
    command, rest = (arguments[0], arguments[1:]) if arguments else ("build", [])
    if command not in ("build", "serve", "test", "bench", "fuzz", "pictures", "lock"):
        print(__doc__)
        return 0 if command in ("-h", "--help") else 2
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a console that has no “…” does without
    sys.path.insert(0, str(ROOT))
    from site_src.tools import environment

    try:
        environment.require_modules(environment.BUILD_NEEDS)
        if not environment.inside():
            environment.prepare()
            return environment.rerun([str(ROOT / "build.py"), command, *rest])
        return _run(command, rest)
    except environment.SetupError as error:
        print(error, file=sys.stderr)
        return 1
    except OSError as error:
        if error.errno not in environment.NOT_WRITABLE:
            raise
        print(f"{error.filename or 'The project'} cannot be written to: {error.strerror}.", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


def _run(command: str, rest: "list[str]") -> int:
    """Run a command that needs the environment."""
    from importlib import import_module

    from site_src.tools import environment, serve, site

    port = serve.port(rest) if command == "serve" else 0
    environment.require_writable()
    if command in ("build", "serve", "pictures"):
        with environment.alone():
            site.build(ROOT / "_site", rest[0] if command == "build" and rest else "")
    if command == "build":
        return 0
    if command == "serve":
        return serve.main(ROOT / "_site", port)
    tool = import_module(f"site_src.tools.{'checks' if command == 'test' else command}")
    return int(tool.main(rest))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
