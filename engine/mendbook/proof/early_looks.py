"""A rule looks only at what is known when it speaks."""

from collections.abc import Iterator

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import LIMIT, placeholders
from mendbook.rulebook.tree import Line, Rule


def find_early_looks(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each line that looks at, or prints, a fact of a stage that runs after its own."""
    order = [stage.name for stage in book.stages]
    for rule in book.rules:
        for line in rule.lines:
            for name in _names(rule, line):
                stage = book.vocabulary[name].stage if name in book.vocabulary else ""
                if stage in order and order.index(stage) > order.index(rule.stage):
                    yield (
                        f"{rule.file}:{line.at}: '{name}' is known from the stage '{stage}' on, and this rule speaks "
                        f"before, in '{rule.stage}'. Move the rule to a folder of that stage, or take another fact."
                    )


def _names(rule: Rule, line: Line) -> dict[str, None]:
    said = line.outcome
    sentences = (line.because, said.hold or "", said.stop or "", *said.rule_out, *said.do, *said.caution)
    printed = (name for sentence in sentences for name in placeholders(sentence) if name != LIMIT)
    return dict.fromkeys([*(b.fact for b in (*rule.applies, *line.bounds)), *printed])
