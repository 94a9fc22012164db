"""What is proven of a rulebook, what was only tried, and the cases that speak against it, in words."""

from collections.abc import Sequence
from dataclasses import dataclass

from rich.console import RenderableType

from mendbook.audit.claims import Claim
from mendbook.audit.proofs import Answer
from mendbook.audit.witness import Witness, spell_witness
from mendbook.card.layout import STRONG, hanging, heading, stack
from mendbook.card.lettering import line, plain, sentence, verbatim

FEW = 6  # entries of one list that are shown; the data has all
HOW = {"proof": "proven", "trial": "tried"}


@dataclass(frozen=True)
class Shown:
    """A case that speaks against a claim, what triage says of it, and the file it was written to, "" for none."""

    witness: Witness
    answer: Answer
    file: str = ""


def proven(claims: Sequence[tuple[Claim, Sequence[Sequence[Shown]]]]) -> RenderableType:
    """Return the claims; beside each stand the cases of each of its failures.

    A case that was written to no file is printed whole.
    """
    parts: list[RenderableType] = []
    for claim, answers in claims:
        parts.append(heading(sentence(claim.name).removesuffix(".")))
        parts.append(hanging([("", line(claim.says)), ("", line(_result(claim), STRONG if not claim.holds else ""))]))
        for failure, cases in zip(claim.failures, answers, strict=True):
            parts.append(hanging([("-", stack(line(failure.says), *map(_case, cases)))]))
        parts.append(hanging([("*", line(entry)) for entry in claim.listed[:FEW]]))
        if len(claim.listed) > FEW:
            parts.append(hanging([("*", line(f"and {len(claim.listed) - FEW} more, all in --json"))]))
    held = sum(claim.holds for claim, _ in claims)
    parts += [heading("In short"), line(f"{held} of {len(claims)} claims hold.")]
    return stack(*parts)


def _result(claim: Claim) -> str:
    asked = f"{claim.asked} {'cases' if claim.by == 'trial' else 'questions'}"
    if claim.holds:
        known = f"; known and listed: {len(claim.listed)}" if claim.listed else ""
        return f"Holds, {HOW[claim.by]} ({asked}{known})."
    return f"DOES NOT HOLD ({asked})."


def _case(shown: Shown) -> RenderableType:
    witness, answer = shown.witness, shown.answer
    law = "" if witness.law == "none" else f" --law {witness.law}"
    verdict = f", {answer.verdict}" if answer.verdict else ""
    said = line(f"Triage says: {answer.outcome}{verdict}. {plain(answer.reason)}")
    if shown.file:
        return stack(line(f"mendbook triage {shown.file}{law}"), said)
    return stack(
        line(f"This case shows it{f' (triage with{law})' if law else ''}:"), verbatim(spell_witness(witness)), said
    )
