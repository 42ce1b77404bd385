"""What is done if a step does not go as planned."""

from __future__ import annotations

from briefgen.language.sentences import plain
from briefgen.language.wording import capital
from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.case_words import cost_words, done_words, ends_words, then_words
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import step_cell
from briefgen.tables.table import Cell, Column, Table, cells

_COLUMNS = (
    Column("At the step", wide=True), Column("If", wide=True), Column("What is done", wide=True),
    Column("Then", wide=True), Column("The sortie then ends", wide=True),
)  # fmt: skip


def cases_table(proved: SortieEvidence) -> Table:
    """Every case in the order of the plan; of a block of steps those of its first round."""
    rows = tuple(_row(proved, proof) for proof in proved.cases if not proof.step.step.origin.again)
    return Table("cases", "If a step does not go as planned", _COLUMNS, rows, "No case is written.")


def _row(proved: SortieEvidence, proof: CaseProof) -> tuple[Cell, ...]:
    library, written = proved.library, proof.case
    done = " ".join(f"{number}. {words}" for number, words in enumerate(done_words(library, written), start=1))
    costs = "; ".join(filter(None, [ends_words(proof), cost_words(proof)]))
    return (
        step_cell(proof.step, f" [{proof.step.key}]"),
        *cells(plain(written.when), done, capital(then_words(library, written)), capital(costs) or "Not proved"),
    )


TABLE = TableKind("cases", 25, lambda proved: (cases_table(proved),))
