"""Invented sheets from the repair bench of Harrow Vale, an invented town. Nobody and nothing here is real."""

from firstpull import paper as p

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
        p.Caution("Pull the lead off the plug before a hand goes near the blade.", "A flick of the blade can start it."),
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
        "Before winter: drain the tank and run it until it stops, or fill it with treated fuel and run it five minutes.",
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
