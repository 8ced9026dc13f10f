"""The subject balance: where it balances, and what puts it right."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.english import wrapped
from calc.subject import Subject
from calc.subjects.balance import answer, data, words

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    block = found.of(answer.BalanceBlock)
    return {"balance": None if block is None else data.data(block)}


def _text(found: "Assessment", system: str) -> Iterable[Iterable[str]]:
    block = found.of(answer.BalanceBlock)
    if block is not None:
        yield wrapped(words.balance_sentence(block, system))


SUBJECT = Subject(name="balance", kind=answer.BalanceBlock, answer=answer.answer, data=_data, text=_text)
