"""Invented sheets from the repair bench of Harrow Vale, an invented town. Nobody and nothing here is real."""

from firstpull import paper as p
from tests.paper.harrow_vale_chart import CHART

SHOP = p.Shop("Harrow Vale repair bench", ("Tool library, 3 Mill Yard", "Tuesday to Saturday, 9 to 5"))
MOWER = p.Head(
    shop=SHOP,
    job="417",
    machine="Walk mower, overhead valve",
    complaint="Died mid-lawn, will not start",
    owner="Orla Quince",
    date="25 November 2026",
    at_bench="Ines",
)

HAND_OVER = p.HandOver(
    head=MOWER,
    headline="The spark coil had died. A new one is in, and the mower starts on the first pull.",
    cautions=(
        p.Caution("Never tip it with the plug side down.", "Oil runs into the cylinder and the filter."),
        p.Caution(
            "Pull the lead off the plug before a hand goes near the blade.", "A flick of the blade can start it."
        ),
    ),
    wrong=(
        "The coil gave no spark, even with the stop lead unplugged at the coil.",
        "The stop lead was chafed where it passes the shroud. It had not yet failed.",
    ),
    proofs=(
        p.Proof("Tester dark with the stop lead off", "spun by drill, plug out, tester proved the same day", "proved"),
        p.Proof("Starts cold and hot", "three pulls cold, one pull after ten minutes' running", "proved"),
        p.Proof("Stop lever stops it", "let go three times, stopped three times", "proved"),
        p.Proof("No fuel drip", "ten minutes parked, dry cloth under it", "proved"),
        p.Proof("Holds its speed under load", "no long grass here today", "to-do", "Not tried"),
    ),
    measured=(
        p.Measured("Coil air gap", "0.30 mm", "0.25 to 0.36 mm", "proved"),
        p.Measured("Blade stop", "2.5 s, give or take 0.2", "3.0 s at most", "proved"),
        p.Measured("Plug gap", "0.76 mm", "0.71 to 0.79 mm", "proved"),
        p.Measured("Governed speed", "3 050 r/min, give or take 60", "2 900 to 3 100 r/min", "undecided"),
        p.Measured("Valve lash, exhaust", None, "0.10 to 0.15 mm", "to-do", "Not measured"),
    ),
    renewed=(
        p.Renewed("Spark coil", "HV-1180", "new", "dead, see above"),
        p.Renewed("Stop lead, one metre", None, "new", "chafed to the copper"),
        p.Renewed("Spark plug", "HV-0031", "new", "worn; good practice with a new coil"),
    ),
    refused=(
        p.Caution("The grass flap was missing.", "We fitted a used one; without it the mower would not have left."),
    ),
    fuel="0.4 litre, fresh on 25 November 2026. Use it before the end of December or drain it.",
    storing=(
        "Before winter: drain the tank and run it until it stops, or fill it with treated fuel and run it 5 minutes.",
        "Change the oil while it is warm. Keep it indoors and dry, with the rope slack.",
        "Keep grass out of the cooling fins; heat is what ages a coil.",
    ),
    warranty=("Parts and labour for 90 days on what is listed under C and D. A first look is free.",),
    signers=(p.Signer("Handed over by", "Ines"), p.Signer("Received by", "Orla Quince")),
)

TAG = p.Tag(
    head=MOWER,
    danger=None,
    fuel="Fuel in it, tap shut",
    place="Rack B, 4",
    promised="Thursday 26 November",
    link="http://127.0.0.1:8765/jobs/417",
    left_with=("Grass bag", "Key on a red string", "Fuel can, 5 litres"),
)

RECEIPT = p.Receipt(
    head=MOWER,
    owner=(
        p.Fact("Name", "Orla Quince"),
        p.Fact("Telephone", "555 0117"),
        p.Fact("May say yes for her", "Tam Quince"),
        p.Fact("Second number", None),
    ),
    machine=(
        p.Fact("Kind", "Walk mower, overhead valve"),
        p.Fact("Serial", "HV-2016-00417"),
        p.Fact("Type plate of the engine", "photographed"),
        p.Fact("Hours a season", "about 20"),
    ),
    words="It just died in the middle of the lawn, and now it won't start at all. I changed the plug, no difference.",
    told=("Ran fine until Tuesday.", "Owner changed the plug: no difference.", "Fuel from a can, bought in spring."),
    left_with=("Grass bag", "Key on a red string", "Fuel can, 5 litres"),
    condition=("Deck dented at the front left", "Grass flap missing", "Rope frayed at the handle"),
    agreed=(
        p.Fact("Finding it costs", "$25.00, taken off the bill if it is mended"),
        p.Fact("Ask before going over", "$90.00"),
        p.Fact("Promised", "Thursday 26 November"),
        p.Fact("Kept of the last 40 promises", "36"),
        p.Fact("Old parts back", "yes"),
        p.Fact("If it is declined", "reassembly $20.00, returned as it is"),
    ),
    cautions=(p.Caution("Do not try to start it meanwhile.", "It stays with the plug lead off and the tap shut."),),
    terms=(
        "No work beyond the sum above without a new yes from the people named under A.",
        "Parts the owner brings carry no promise from us.",
        "A machine that fails a safety check leaves only with the fault in writing.",
        "Ready machines are kept free for 30 days after the first message; then $2.00 a day.",
        "After 90 days and a letter by registered post a machine counts as left behind.",
    ),
    signers=(p.Signer("For the bench", "Ines"), p.Signer("Owner", "Orla Quince")),
    link="http://127.0.0.1:8765/jobs/417",
)

ESTIMATE = p.Estimate(
    head=MOWER,
    found="The spark coil has died. It makes the spark that lights the fuel; yours makes none.",
    certainty="Proved, not guessed: the price below is a ceiling.",
    proofs=(
        p.Proof("No spark, even with the stop wire off", "so it is not the stop lever", "proved"),
        p.Proof("Magnets strong, gap right", "so the coil has all it needs", "proved"),
        p.Proof("Compression and fuel are good", "so it is worth mending", "proved"),
    ),
    options=(
        p.Option(
            "Mend it",
            (
                p.PriceLine("Spark coil", "$34.00", standing="new", quantity="1"),
                p.PriceLine("Finding it", "$25.00", detail="25 minutes"),
                p.PriceLine("Fitting, safety check", "$30.00", detail="30 minutes"),
            ),
            (p.Total("Tax, 0 in 100", "$0.00"), p.Total("All together, no more than", "$89.00", True)),
            ready="Ready Thursday 26 November.",
        ),
        p.Option(
            "Mend it and service it",
            (
                p.PriceLine("As above", "$89.00"),
                p.PriceLine("Oil, filter, plug, blade sharpened", "$46.00", detail="flat price", standing="new parts"),
            ),
            (p.Total("All together, no more than", "$135.00", True),),
            ready="Ready Friday 27 November.",
        ),
    ),
    worth="about $220 for a like machine",
    declined="$20.00 to put it back together; it goes home as it came, with every loose part in a bag.",
    valid_until="25 December 2026",
    notes=("Old parts are yours if you want them.",),
    signers=(p.Signer("For the bench", "Ines"), p.Signer("Yes, mend it", "Orla Quince")),
)

APPROVAL = p.ApprovalSlip(
    head=MOWER,
    approves="to mend",
    up_to="$89.00",
    work=("Renew the spark coil and set its gap", "Renew the stop lead", "Safety check, blade stop timed"),
    who="Orla Quince",
    how="by telephone, 555 0117",
    when="25 November 2026, 11:04",
    beyond="Anything beyond this sum needs a new yes.",
    terms=("Old parts are kept for the owner.",),
    signers=(p.Signer("For the bench", "Ines"), p.Signer("Owner")),
)

WORK = p.WorkSheet(
    head=MOWER,
    cautions=(
        p.Caution("Plug lead off and earthed before a hand goes near the blade."),
        p.Caution("Tester an arm away from the plug hole, hole covered.", "Fuel mist lights from a spark."),
        p.Caution("The blade turns with the drill: feet and hands clear."),
    ),
    facts=(p.Fact("Started at"), p.Fact("Air, °C"), p.Fact("Instrument tried today on")),
    off=("plug", "shroud", "stop lead", "air filter", "tank cap", "fuel drained", "oil drained", "lever strapped"),
    checks=(
        p.PencilCheck(
            "C1",
            "Spark at the tester, stop lead on",
            ("lights every pull", "dark"),
            minutes="2 min",
            how="Lever held. Tester on a bare fin, set to 10 kV.",
        ),
        p.PencilCheck(
            "C2",
            "Spark at the tester, stop lead off",
            ("lights every pull", "dark"),
            minutes="8 min",
            how="Plug in, its lead on an earthed stand-alone tester: it cannot fire.",
            cautions=(p.Caution("Plug lead stays on the tester until the stop lead is back on."),),
        ),
        p.PencilCheck(
            "C3",
            "Stop tab to frame",
            ("open when held", "closed when released"),
            ("held, ohm", "released, ohm"),
            minutes="3 min",
        ),
        p.PencilCheck("C4", "Coil air gap", ("rubs", "to spec", "wide"), ("gap, mm", "leaf or card"), minutes="4 min"),
        p.PencilCheck("C5", "Plug, by eye", ("dry", "wet", "sooty", "oily", "bridged"), minutes="2 min"),
        p.PencilCheck(
            "C6", "Compression, lever held", ("good bump", "weak", "no bump"), ("kPa", "pulls"), minutes="5 min"
        ),
    ),
    repairs=("Renew the plug", "Renew the spark coil", "Renew the stop lead"),
    settings=(p.Fact("Air gap, mm"), p.Fact("Plug gap, mm"), p.Fact("Coil screws, N·m")),
    release=(
        "Everything back on",
        "Stop lever stops it, three times",
        "Cannot start with the lever released",
        "Blade stops in 3.0 s",
        "Flap and guards",
        "No fuel smell after ten minutes",
    ),
)

BILL = p.Bill(
    head=MOWER,
    number="2026-0391",
    to=("Orla Quince", "12 Weir Lane", "Harrow Vale"),
    facts=(
        p.Fact("Serial", "HV-2016-00417"),
        p.Fact("In", "24 November 2026"),
        p.Fact("Out", "26 November 2026"),
        p.Fact("Agreed ceiling", "$89.00"),
    ),
    lines=(
        p.PriceLine("Finding it", "$25.00", detail="25 minutes", running="$25.00"),
        p.PriceLine("Spark coil HV-1180", "$34.00", standing="new", quantity="1", running="$59.00"),
        p.PriceLine("Fitting, safety check", "$30.00", detail="30 minutes", running="$89.00"),
        p.PriceLine("Stop lead", "$0.00", detail="given", standing="new", quantity="1 m", running="$89.00"),
    ),
    totals=(
        p.Total("Work", "$55.00"),
        p.Total("Parts", "$34.00"),
        p.Total("Tax, 0 in 100", "$0.00"),
        p.Total("All together", "$89.00", True),
    ),
    paid="$89.00 in cash, 26 November 2026",
    warranty=(
        "Parts and labour for 90 days on what is listed above. A first look is free.",
        "Not covered: stale fuel, a strike, or tipping with the plug side down.",
    ),
    measured=HAND_OVER.measured[:3],
    fuel="0.4 litre, fresh on 25 November 2026; oil to the upper mark",
    refused=HAND_OVER.refused,
    notes=("The old coil and lead went home with the owner.",),
)

RETURNED = p.Returned(
    head=p.Head(
        SHOP, "398", "Walk mower, side valve", "Blade runs on after release", "Bram Tolliver", "25 November 2026", "Wen"
    ),
    reason="Declined: the brake pad costs more than the owner wants to spend.",
    state=("Cover back on, four bolts of four", "Starts on the second pull", "Brake pad worn to the rivets"),
    missing=("Grass flap", "One wheel cap"),
    loose=("Old plug", "Two deck bolts, the thread in the deck is gone"),
    lead="Off the plug, tied to the handle with red cord",
    fuel="Drained, none left in it",
    unsafe=(
        p.Caution("The blade runs on 3.4 s after the lever is let go.", "The limit for this class is 3.0 s."),
        p.Caution("There is no grass flap.", "Stones leave at the height of a foot."),
    ),
    lines=(p.PriceLine("Finding it", "$25.00", detail="25 minutes"),),
    totals=(p.Total("To pay", "$25.00", True),),
    reassembly="$0.00, waived",
    statement="I was told what is unsafe about this machine and take it home unmended, at my own wish.",
    signers=(p.Signer("Handed back by", "Wen"), p.Signer("Owner", "Bram Tolliver")),
)

ABANDONED = p.AbandonedNotice(
    head=p.Head(SHOP, "322", "Tiller, front tine", "Hard to pull", "Pell Ashdown", "25 November 2026", "Ines"),
    to=("Pell Ashdown", "4 Chapel Steps", "Harrow Vale"),
    says="Your tiller has been ready since 3 August 2026 and has not been collected. We would much rather you had it.",
    rule="Terms signed by the owner on 20 July 2026, number 5: 90 days after a letter by registered post. "
    "The shop has entered this rule as the local one; it is not legal advice.",
    contacted=(
        p.Contacted("3 August 2026, 10:12", "telephone 555 0144", "no answer"),
        p.Contacted("10 August 2026, 17:40", "message to 555 0144", "read, no reply"),
        p.Contacted("2 September 2026", "letter by ordinary post", None),
    ),
    lines=(
        p.PriceLine("Repair, as agreed on 22 July", "$64.00"),
        p.PriceLine("Keeping it, 84 days", "$168.00", detail="$2.00 a day after 30 free days"),
    ),
    totals=(p.Total("Owed today", "$232.00", True),),
    by="23 February 2027",
    then=(
        "The tiller may be sold. It passed its safety check on 3 August 2026.",
        "What is left of the price after the sum above and the cost of selling is kept for you for a year.",
    ),
    collect=(
        "Bring this letter or the number 322.",
        "Tuesday to Saturday, 9 to 5. Another day can be agreed by telephone.",
    ),
    posting=(p.Fact("Posted on"), p.Fact("Registered number")),
    signers=(p.Signer("For the bench", "Ines"),),
)


SHEETS: dict[str, p.Sheet] = {
    "tag": TAG,
    "receipt": RECEIPT,
    "estimate": ESTIMATE,
    "approval": APPROVAL,
    "work": WORK,
    "bill": BILL,
    "hand-over": HAND_OVER,
    "returned": RETURNED,
    "abandoned": ABANDONED,
    "chart": CHART,
}
