"""No rule and no line is dead: each decides some case that can be written down."""

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.finder import Finder
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.triage.shop import Shop

# Written in a case, but read at its bad end, or not at all, when another fact says that it is not known.
FOLLOWING = (
    "plies",
    "pressure at removal",
    "cords cut",
    "depth",
    "distance from bead",
    "distance from centreline",
    "zone",
)
SAYS = "Every line that looks at what is derived decides some case that can be written down, with all that follows."


def show_living(shop: Shop, finder: Finder) -> Claim:
    """Return the claim that no line is dead.

    Of lines that look only at what a person writes, the checks of form show it already. The cases of these proofs have
    one injury, so rules that look at its neighbours are left to their examples, and are listed. A rule that today's
    tables keep silent is listed too, when its file says why it is kept; when it is not silent, that is a failure.
    """
    free = {name for name in finder.relations.written if name not in FOLLOWING}
    hanging = [
        (rule, place, guard)
        for speech in finder.relations.speech.values()
        for rule in speech.rules
        if not rule.facts() <= free and not looks_at_neighbours(rule, shop.book)
        for place, guard in enumerate(speech.lines[rule.id])
    ]
    dead = finder.find_impossible([guard for _, _, guard in hanging])
    failures, listed = (
        [],
        [f"{r.id}: looks at neighbours" for r in shop.book.rules if looks_at_neighbours(r, shop.book)],
    )
    for (rule, place, _), is_dead in zip(hanging, dead, strict=True):
        where = f"{rule.file}:{rule.lines[place].at}"
        if is_dead and rule.in_reserve:
            listed.append(f"{rule.id}: in reserve, {rule.in_reserve}")
        elif is_dead:
            failures.append(
                Failure(
                    f"{where}: no case that can be written down makes this line decide. "
                    "Change the limit, delete the rule, or say under 'in reserve:' why it is kept."
                )
            )
        elif rule.in_reserve:
            failures.append(Failure(f"{where}: the rule is 'in reserve', and it speaks. Delete 'in reserve:'."))
    return Claim("no dead line", SAYS, "proof", len(hanging), tuple(failures), tuple(listed))


def looks_at_neighbours(rule: Rule, book: Rulebook) -> bool:
    """Return whether `rule` looks at what only several injuries on one tyre can move."""
    facts = [book.vocabulary[name] for name in rule.facts()]
    return any(fact.stage == "pairs" and fact.values != book.verdicts for fact in facts)
