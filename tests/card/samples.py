"""Dockets built by hand, invented throughout, for the tests of the report."""

from mendbook.terms.cure_sheet import CureSheet, FaceCure, LayerCure, Porosity, Schedule, SlowestPoint
from mendbook.terms.docket import BookNote, Change, Docket, Finding, InjuryVerdict, Look, SourceNote, TyreNote
from mendbook.terms.plan import Amount, KitItem, Limit, Method, Plan, Repair, Step, WhyNot

HOUSE = SourceNote(id="house", place="cord limits", kind="house", title="House defaults of this rulebook", known="read")
LAW = SourceNote(
    id="29 cfr 1910.177",
    place="(f)(2)",
    kind="law",
    title="Servicing rim wheels",
    known="from memory: check before quoting",
)
ALL_READINGS = {"good": True, "as read": True, "bad": True}
BAD_ONLY = {"good": False, "as read": False, "bad": True}

CUT = Finding(
    rule="sidewall/through_steel_radial",
    name="through sidewall injury, steel radial",
    line=4,
    about="A",
    zone="upper sidewall",
    use=("off-road",),
    says=("verdict",),
    verdict="section",
    because="48 mm by 118 mm lies within 60 mm by 150 mm, and 13 cords of at most 18 cords are cut; "
    "the lost spokes are bridged.",
    sources=(HOUSE,),
    readings=ALL_READINGS,
    limit={"share of cord limit": "up to 100 %"},
    margin={"share of cord limit": 28.0},
)
STEP = Finding(
    rule="release/rest_middle",
    name="rest before inflation",
    line=7,
    about="tyre",
    use=("off-road", "road"),
    says=("do",),
    because="Warm rubber is weak.",
    sources=(HOUSE,),
    readings=BAD_ONLY,
)
CORE = Finding(
    rule="people/valve_core",
    name="valve core",
    line=3,
    about="tyre",
    use=("off-road", "road"),
    says=("stop",),
    text="Take the valve core out",
    because="A tyre under pressure can burst at the probe.",
    sources=(LAW, HOUSE),
    readings=ALL_READINGS,
)
QUIET = Finding(
    rule="casing/crack_class",
    name="cracks",
    line=5,
    about="tyre",
    use=("off-road",),
    says=("verdict",),
    verdict="leave",
    because="No crack is deeper than skin.",
    sources=(HOUSE,),
    readings=ALL_READINGS,
)

REPAIR = Repair(
    injury="A",
    verdict="section",
    zone="upper sidewall",
    method=Method(
        heat="hot",
        stages="one stage",
        reinforcement="uncured reinforcement",
        heating="heat from both faces",
        kit="flexible pads",
    ),
    why_not=(WhyNot(method="arm press", because="its throat does not reach the place", source="house, reach"),),
    thickness_mm=46.4,
    reinforcement="290 mm x 360 mm",
    kit=(
        KitItem(
            role="outside pad",
            item="pad-200x300",
            size="200 x 300 mm",
            because="the opening asks 170 x 245 mm",
        ),
        KitItem(
            role="inside pad",
            item="pad-250x400",
            size="250 x 400 mm",
            count=2,
            because="it covers the reinforcement",
        ),
    ),
    not_served=("no pad covers it in one piece",),
    materials=(Amount(material="fill rubber", amount=0.45, unit="kg", basis="cavity and a quarter"),),
    steps=(
        Step(
            number=1,
            do="Skive to sound cord and rubber",
            hold_point="Foreman looks at the skive",
            basis="house, skive",
        ),
        Step(
            number=2,
            do="Switch on",
            figures="2.2 bar, 145 °C, 113 min",
            caution="Never stand in line with a strap",
        ),
    ),
)

DOCKET = Docket(
    case="Quarry loader, sharp limestone (invented)",
    mendbook="0.1.0",
    judged="2026-11-26T10:14:00+00:00",
    rulebook=BookNote(edition="first edition", date="2026-11-25", owner="a site must sign", digest="0123456789abcdef"),
    evaluator="durable-rules",
    law="none",
    tyre=TyreNote(
        tag="A-17",
        designation="26.5R25",
        construction="radial",
        casing="steel",
        age="3.3 years",
        duty="loader v-cycle",
        position="not steered",
        use="off-road",
    ),
    outcome="repair",
    verdict="section",
    bracket=("section", "section"),
    decided=True,
    uses={"off-road": "section", "road": "reject"},
    basis="house",
    reason=CUT.because,
    injuries=(
        InjuryVerdict(
            name="A",
            zone="upper sidewall (also touches shoulder)",
            verdict="section",
            bracket=("section", "section"),
            shares={"share of length limit": "80 %", "share of area limit": "84 %", "ply share": "72 %"},
            length="48 mm",
            width="118 mm",
            box="60 x 150 mm",
        ),
        InjuryVerdict(
            name="B",
            zone="crown centre",
            verdict="spot",
            bracket=("dress", "spot"),
            length="8 mm",
            width="9 mm",
        ),
    ),
    findings=(QUIET, STEP, CUT),
    would_change=(
        Change(
            about="A",
            fact="width",
            now="118 mm",
            then="20 mm",
            verdict="spot",
            says="A: width 20 mm instead of 118 mm gives spot",
        ),
    ),
    assumed={"moisture": "dry", "zipper signs": "none", "A: pulled cords": "none"},
    plan=Plan(
        repairs=(REPAIR,),
        power="3 pads, 3.1 kW, 9 kWh",
        limits=(Limit(what="speed", limit="15 km/h", basis="house, first hours"),),
        ladder=(
            Step(number=1, do="Let it rest 36 h", figures="36 h"),
            Step(number=2, do="Inflate in steps", hold_point=""),
        ),
    ),
    cautions=("Only trained and authorised persons do this work.", "A cure is never left alone."),
)

LOOK = Look(
    about="A",
    fact="depth",
    how="depth gauge in the skived cavity",
    why="it decides between section and reject",
)

SHEET = CureSheet(
    case="Quarry loader, A (invented)",
    schedule="safe",
    minutes_from_switch_on=134.0,
    timer_starts_at_min=17.0,
    minutes_from_timer=117.0,
    minutes_to_release=61.0,
    release_C=100.0,
    target=1.0,
    schedules=(
        Schedule(
            name="economy",
            target=1.25,
            minutes_from_switch_on=119.0,
            minutes_from_timer=102.0,
            minutes_to_release=58.0,
            after_power_off=0.41,
            outside=None,
            inside=None,
            slowest=SlowestPoint(layer="fill", depth_mm=24.4, temperature_C=127.0, peak_C=128.8),
        ),
    ),
    slowest=SlowestPoint(layer="fill", depth_mm=24.4, temperature_C=131.2, peak_C=131.6),
    outside=FaceCure(layer="fill", multiples=4.213, limit=6.0, ok=True),
    inside=FaceCure(layer="cover", multiples=7.11, limit=6.0, ok=False),
    layers=(
        LayerCure(layer="fill", least_at_power_off=1.0, least=1.71, most=4.213, limit=6.0, ok=True),
        LayerCure(layer="cover", least_at_power_off=2.2, least=2.9, most=7.11, limit=6.0, ok=False),
    ),
    porosity=Porosity(
        setpoint_C=140.0,
        water_activity=1.0,
        vapour_bar=3.61,
        clamp_needed_bar=2.6,
        clamp_given_bar=2.0,
        highest_safe_setpoint_C=133.5,
        ok=False,
    ),
    warnings=("the inside face is cured past what it bears",),
    cautions=("a cure is never left alone",),
    notes=("heat after power-off is not counted",),
)
