"""What a case may be refused with: it contradicts itself, or tells too little."""

from mendbook.facts.scenarios import TooManyChoices
from mendbook.terms.case_file import CaseError
from mendbook.triage.places import ImpossibleCase

REFUSALS = (ImpossibleCase, TooManyChoices, CaseError)
