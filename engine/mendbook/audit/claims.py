"""What is claimed of a rulebook, how it was shown, and what speaks against it."""

from dataclasses import dataclass

from mendbook.audit.witness import Witness


@dataclass(frozen=True)
class Failure:
    """What speaks against a claim, in a sentence, and the cases that show it: one, or a better one and a worse."""

    says: str
    cases: tuple[Witness, ...] = ()


@dataclass(frozen=True)
class Claim:
    """One claim about the book.

    `by`: proof, or trial where only chosen cases were tried; `asked`: questions put, or cases tried; `listed`: what is
    known and accepted, each with its reason.
    """

    name: str
    says: str
    by: str
    asked: int
    failures: tuple[Failure, ...] = ()
    listed: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        """True when nothing speaks against it."""
        return not self.failures
