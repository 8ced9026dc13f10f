"""The link: open standards, bounds, damage."""

import base64
import json
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import wording
from calc.document import link
from calc.document.jsontext import LONGEST_DOCUMENT
from calc.errors import LinkError
from site_src.tools.hostile import packed
from tests.support import demo_documents


@pytest.mark.parametrize("name", demo_documents())
def test_round_trip_of_the_examples(name: str) -> None:
    document = demo_documents()[name]
    fragment = link.encode(document)
    assert link.decode(fragment) == document
    assert link.decode(f"https://example.org/plan/index.html{fragment}") == document


def test_form_is_that_of_the_standards() -> None:
    """RFC 4648 section 5 without padding, RFC 1951 raw, RFC 8259 with the format number first; CRC-32 before it."""
    check, body = link.encode({"name": "Möwe"}).removeprefix("#b=").split(".")
    assert base64.urlsafe_b64decode(check + "==") == zlib.crc32(body.encode()).to_bytes(4, "big")
    plain = zlib.decompress(base64.urlsafe_b64decode(body + "=" * (-len(body) % 4)), wbits=-15)
    assert plain == '{"format":1,"name":"Möwe"}'.encode()
    assert link.decode(packed('{"format":1,"name":"Möwe"}')) == {"format": 1, "name": "Möwe"}


@pytest.mark.parametrize(
    ("fragment", "code"),
    [
        ("", "link_not_budget"),
        ("#answer", "link_not_budget"),
        ("#b=", "link_damaged"),
        ("#b=***", "link_damaged"),
        ("#b=A", "link_damaged"),
        ("#b=AAAA", "link_damaged"),
        ("#b=" + "A" * 20_000, "link_too_long"),
        (packed("{"), "link_damaged"),
        (packed("[1]"), "link_damaged"),
        (packed(b'{"format":1,"name":"\xff"}'), "link_damaged"),
        (packed('{"format":1,"a":' + "[" * 50 + "]" * 50 + "}"), "link_damaged"),
        (packed('{"format":2}'), "link_format"),
        (packed('{"name":"no format"}'), "link_no_format"),
        (packed('{"format":true}'), "link_no_format"),
        (packed('{"format":1.5}'), "link_no_format"),
        (packed('{"format":"abcdefghijklmnopqrstuvwxyz"}'), "link_no_format"),
        (packed('{"format":1,"name":"' + "a" * 400_000 + '"}'), "link_too_large"),
    ],
)
def test_what_is_no_sound_link_is_refused(fragment: str, code: str) -> None:
    with pytest.raises(LinkError) as caught:
        link.decode(fragment)
    assert caught.value.code == code


def test_letters_lost_on_the_way_are_noticed_or_leave_a_document() -> None:
    """Cut short anywhere, a link is refused."""
    fragment = link.encode(demo_documents()["gnat.json"])
    for length in range(len(fragment) - 1):
        with pytest.raises(LinkError):
            link.decode(fragment[:length])


def test_a_budget_too_long_for_a_link_is_refused() -> None:
    """Text that does not compress: 30 kB of different digits."""
    digits = "".join(str(hash((1, index)) % 10**9) for index in range(6000))
    with pytest.raises(LinkError) as caught:
        link.encode({"name": digits})
    assert caught.value.code == "link_too_long"


def test_the_format_number_of_the_document_is_kept() -> None:
    assert json.dumps(link.decode(packed('{"format":1}'))) == '{"format": 1}'


@pytest.mark.parametrize(("letters", "code"), [(16_384, "link_damaged"), (16_385, "link_too_long")])
def test_the_longest_link(letters: int, code: str) -> None:
    with pytest.raises(LinkError) as caught:
        link.decode("#b=" + "A" * letters)
    assert caught.value.code == code


def test_the_largest_document() -> None:
    frame = len('{"format":1,"name":""}')
    longest = "a" * (LONGEST_DOCUMENT - frame)
    assert link.decode(packed(f'{{"format":1,"name":"{longest}"}}'))["name"] == longest
    with pytest.raises(LinkError) as caught:
        link.decode(packed(f'{{"format":1,"name":"{longest}a"}}'))
    assert caught.value.code == "link_too_large"


def test_letters_added_on_the_way_are_noticed() -> None:
    """Letters that base64url does not have, which Python's decoder would pass over; bytes behind the end."""
    fragment = link.encode({"name": "Moth"})
    old = packed('{"format":1,"name":"Moth"}')
    body = base64.urlsafe_b64decode(old[3:] + "=" * (-len(old[3:]) % 4))
    longer = base64.urlsafe_b64encode(body + b"more").decode().rstrip("=")
    for changed in (f"{fragment[:19]}****{fragment[19:]}", f"{old[:9]}****{old[9:]}", f"#b={longer}", "#b=AAAAAA.é"):
        with pytest.raises(LinkError) as caught:
            link.decode(changed)
        assert caught.value.code == "link_damaged"


def test_an_unknown_format_is_told_with_twenty_letters_at_most() -> None:
    with pytest.raises(LinkError) as caught:
        link.decode(packed('{"format":' + "9" * 26 + "}"))
    assert caught.value.facts["format"] == "9" * 20
    assert "None" not in wording.sentence("link_no_format", {})


@pytest.mark.parametrize("name", demo_documents())
def test_one_letter_changed_on_the_way_opens_nothing(name: str) -> None:
    """A CRC-32 finds every change within 32 bits in a row; a letter is eight. Of the full stop each change is tried."""
    fragment = link.encode(demo_documents()[name])
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
    for place in range(3, len(fragment)):
        before = fragment[place]
        for letter in letters if before == "." else (letters[(letters.index(before) + step) % 64] for step in (1, 32)):
            with pytest.raises(LinkError):
                link.decode(f"{fragment[:place]}{letter}{fragment[place + 1 :]}")


@pytest.mark.parametrize("around", ["{}.", "<{}>", "({}),", "see {}\n", '"{}"', "{} ", "{}="])
@pytest.mark.parametrize("made", [link.encode({"name": "Moth"}), packed('{"format":1,"name":"Moth"}')])
def test_what_a_message_does_to_a_link_leaves_the_link(around: str, made: str) -> None:
    """A checked link and one of an older edition: text around it, `=` as `%3D`, a line broken in two."""
    for fragment in (made, made.replace("=", "%3D"), made.replace("=", "%3d"), f"{made[:20]}\r\n {made[20:]}"):
        assert link.decode(around.format(f"https://example.org/plan/{fragment}"))["name"] == "Moth"
    assert link.is_checked(made) == ("." in made)


@given(st.text(alphabet=st.characters(categories=None), max_size=40))
def test_any_text_comes_through(text: str) -> None:
    """Half letters, too: a document with mistakes goes through unchanged."""
    document = json.loads(json.dumps({"format": 1, f"x{text}": text, "gear": [{"name": text}]}))
    assert link.decode(link.encode(document)) == document
