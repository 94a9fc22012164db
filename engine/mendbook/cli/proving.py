"""Prove a rulebook: print every claim, and write the cases that speak against it."""

import json
from dataclasses import asdict
from itertools import count
from pathlib import Path

import typer

from mendbook.audit.proofs import answer, prove_beside
from mendbook.audit.witness import Witness, spell_witness
from mendbook.card.proven import Shown, proven
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
    number = count(1)
    refuting = [
        (
            claim,
            [
                [
                    Shown(witness, answer(witness, shop), "" if cases is None else _put(witness, cases, next(number)))
                    for witness in failure.cases
                ]
                for failure in claim.failures
            ],
        )
        for claim in claims
    ]
    if as_json:
        told = [
            {
                **{key: value for key, value in asdict(claim).items() if key != "failures"},
                "holds": claim.holds,
                "failures": [
                    {
                        "says": failure.says,
                        "cases": [
                            {"case": spell_witness(one.witness), "law": one.witness.law, "triage": asdict(one.answer)}
                            for one in answers
                        ],
                    }
                    for failure, answers in zip(claim.failures, by_failure, strict=True)
                ],
            }
            for claim, by_failure in refuting
        ]
        write(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        show(lambda _: proven(refuting))
    if not all(claim.holds for claim in claims):
        raise typer.Exit(FAILED)


def _put(witness: Witness, folder: Path, number: int) -> str:
    """Write a refuting case to a file of its own, and return its name."""
    file = folder / f"refuting_{number}.yaml"
    try:
        file.write_text(spell_witness(witness), encoding="utf-8")
    except OSError as error:
        raise RefusalError(f"{file}: it cannot be written ({error.strerror}). Name another folder.") from error
    return str(file)
