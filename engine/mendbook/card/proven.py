"""What is proven of a rulebook, what was only tried, and the cases that speak against it, in words."""

from collections.abc import Mapping, Sequence
from typing import TypeAlias

from rich.console import RenderableType

from mendbook.audit.claims import Claim
from mendbook.audit.proofs import Answer
from mendbook.audit.witness import Witness, spell_witness
from mendbook.card.layout import STRONG, hanging, heading, stack
from mendbook.card.lettering import line, plain, sentence, verbatim

Answers: TypeAlias = Sequence[tuple[Witness, Answer]]
FEW = 6  # entries of one list that are shown; the data has all
HOW = {"proof": "proven", "trial": "tried"}


def proven(claims: Sequence[tuple[Claim, Sequence[Answers]]], files: Mapping[int, str]) -> RenderableType:
    """Return the claims.

    Beside each claim stand the cases of each of its failures with what triage says of them; `files` names the file
    that a case was written to, by the identity of its witness; a case without one is printed whole.
    """
    parts: list[RenderableType] = []
    for claim, answers in claims:
        parts.append(heading(sentence(claim.name).removesuffix(".")))
        parts.append(hanging([("", line(claim.says)), ("", line(_result(claim), STRONG if not claim.holds else ""))]))
        for failure, cases in zip(claim.failures, answers, strict=True):
            parts.append(hanging([("-", stack(line(failure.says), *(_case(*one, files) for one in cases)))]))
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


def _case(witness: Witness, answer: Answer, files: Mapping[int, str]) -> RenderableType:
    law = "" if witness.law == "none" else f" --law {witness.law}"
    verdict = f", {answer.verdict}" if answer.verdict else ""
    said = f"Triage says: {answer.outcome}{verdict}. {plain(answer.reason)}"
    if id(witness) in files:
        return stack(line(f"mendbook triage {files[id(witness)]}{law}"), line(said))
    shows = f"This case shows it{f' (triage with{law})' if law else ''}:"
    return stack(line(shows), verbatim(spell_witness(witness)), line(said))
