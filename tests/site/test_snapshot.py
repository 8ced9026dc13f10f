"""The memory snapshot: the same bytes from the same files, and made anew only when it must be."""

import gc
import hashlib
import json
import lzma
import shutil
import sys
import types
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from site_src.app import bridge
from site_src.tools import snapshot, snapshot_inside
from site_src.tools.corpus import CORPUS, WHOLE
from site_src.tools.warm_up import warm_up
from tests.stored import stored
from tests.support import ROOT


def parts(built_site: Path, target: Path) -> Path:
    """Return a folder with what a snapshot is made of."""
    shutil.copytree(built_site / "pyodide", target / "pyodide")
    shutil.copy2(built_site / "app.zip", target / "app.zip")
    return target


@pytest.mark.parametrize("size", [0, 1, 100, 65_535, 65_536, 65_537, 200_003])
def test_what_tests_send_is_a_sound_file(size: int) -> None:
    data = bytes(index * 7919 % 251 for index in range(size))
    assert lzma.decompress(stored(data, {})) == data


def test_a_visitors_file_is_packed_for_a_decoder_that_knows_no_other_check() -> None:
    data = b"thistledown" * 9999
    packed = snapshot.packed(data, snapshot.WORDS)
    assert lzma.decompress(packed) == data
    assert len(packed) < 400
    assert packed[7] == lzma.CHECK_CRC32


@pytest.mark.node
def test_the_same_files_give_the_same_bytes(
    built_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    """A builder elsewhere, or later, gives visitors nothing to fetch anew."""
    monkeypatch.setattr(snapshot, "packed", stored)
    again = parts(built_site, tmp_path / "again")
    snapshot.write(again, tmp_path / "no site before")
    made = sorted(path.name for path in again.glob("*.*") if path.name != "app.zip")
    assert len(made) == 4
    assert [(again / name).read_bytes() for name in made] == [(built_site / name).read_bytes() for name in made]


def test_a_build_with_nothing_changed_takes_the_snapshot_of_the_last(built_site: Path, tmp_path: Path) -> None:
    before = tmp_path / "before"
    before.mkdir()
    made = [path.name for path in built_site.glob("*-*.bin")] + [snapshot.GLUE]
    for name in made:
        (before / name).write_bytes(lzma.compress(f"{name} made before".encode()))
    again = parts(built_site, tmp_path / "again")
    told = snapshot.write(again, before)
    found = [lzma.decompress((again / name).read_bytes()).decode() for name in made]
    assert found == [f"{name} made before" for name in made]
    program = told["PROGRAM"]["path"]
    assert told["PROGRAM"]["sums"][0] == hashlib.sha256(f"{program} made before".encode()).hexdigest()


def code_run_by(work: Callable[[], None]) -> set[types.CodeType]:
    """Return the code that a piece of work runs, as the snapshot's own trace would in a newer Python."""
    ran: set[types.CodeType] = set()
    before = sys.getprofile()
    sys.setprofile(lambda frame, event, _: ran.add(frame.f_code) if event == "call" else None)
    try:
        work()
    finally:
        sys.setprofile(before)
    return ran


def ask_for_all_that_is_hostile() -> None:
    for source in (*WHOLE.values(), *list(CORPUS.values())[::10]):
        for method in ("open_any", "box_open"):
            given = {"text": source, "document": {}}
            answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 1, "method": method, "params": given})))
            document = answer.get("result", {}).get("document")
            if document is not None:
                bridge.handle(json.dumps({"v": 1, "id": 1, "method": "form", "params": {"document": document}}))


def test_nothing_that_hostile_input_needs_is_left_out() -> None:
    """A field of another edition must not cost a plain start, which offline may not come.

    Seen in this Python, whose libraries are not those of Pyodide; `test_hostile` in the browser tries some for real.
    """
    kept = code_run_by(warm_up)
    needed = code_run_by(ask_for_all_that_is_hostile)
    functions = [each for each in gc.get_objects() if type(each) is types.FunctionType]
    left_out = {each.__code__ for each in functions if snapshot_inside.may_be_left_out(each)} - kept
    assert len(left_out) > 1000
    assert not {code.co_qualname for code in needed & left_out}


def test_nothing_of_this_machine_is_in_the_site(built_site: Path) -> None:
    """Python keeps by what it was started: that was the path of the checkout, sent to each visitor."""
    own = [str(place).encode() for place in (ROOT, built_site, Path(sys.prefix), Path.home() / "x")]
    for path in built_site.rglob("*"):
        if not path.is_file():
            continue
        data = path.read_bytes()
        held = [lzma.decompress(data)] if path.suffix == ".bin" else [data]
        if path.suffix == ".zip":
            with zipfile.ZipFile(path) as archive:
                held += [archive.read(name) for name in archive.namelist()]
        assert [each for each in own for text in held if each in text] == [], path.name
