"""Prove a rulebook: print every claim, and write the cases that speak against it."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import typer

from mendbook.audit.claims import Claim
from mendbook.audit.proofs import answer, prove_beside
from mendbook.audit.witness import Witness, spell_witness
from mendbook.card.proven import proven
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import DocumentError
from mendbook.triage.shop import open_shop

FAILED = 1


def print_proofs(rulebook: Path | None, cases: Path | None, *, as_json: bool) -> None:
    """Print the claims about the book; cases that refute one go to the folder `cases`, or are printed.

    Leaves with 1 when a claim does not hold. Raises RefusalError when the book cannot be opened.
    """
    with refusing(DocumentError, RulebookError, FileNotFoundError):
        shop = open_shop(rulebook)
    if cases is not None and not cases.is_dir():
        raise RefusalError(f"{cases}: there is no such folder. Make it first, or name another.")
    claims = list(prove_beside(rulebook))
    refuting = [
        (claim, [[(witness, answer(witness, shop)) for witness in failure.cases] for failure in claim.failures])
        for claim in claims
    ]
    files = dict(_written(claims, cases)) if cases is not None else {}
    if as_json:
        told = [
            {
                **{key: value for key, value in asdict(claim).items() if key != "failures"},
                "holds": claim.holds,
                "failures": [
                    {
                        "says": failure.says,
                        "cases": [
                            {"case": spell_witness(witness), "law": witness.law, "triage": asdict(said)}
                            for witness, said in answers
                        ],
                    }
                    for failure, answers in zip(claim.failures, by_failure, strict=True)
                ],
            }
            for claim, by_failure in refuting
        ]
        write(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        show(lambda _: proven(refuting, files))
    if not all(claim.holds for claim in claims):
        raise typer.Exit(FAILED)


def _written(claims: list[Claim], folder: Path) -> Iterator[tuple[int, str]]:
    """Write each refuting case to a file of its own; yield its place among all and the file's name."""
    witnesses: list[Witness] = [w for claim in claims for failure in claim.failures for w in failure.cases]
    for number, witness in enumerate(witnesses, start=1):
        file = folder / f"refuting_{number}.yaml"
        try:
            file.write_text(spell_witness(witness), encoding="utf-8")
        except OSError as error:
            raise RefusalError(f"{file}: it cannot be written ({error.strerror}). Name another folder.") from error
        yield id(witness), str(file)
