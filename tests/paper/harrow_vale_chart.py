"""An invented strategy for the wall of the bench in Harrow Vale."""

from firstpull import paper as p


def end(title: str, note: str | None = None) -> p.Node:
    """A step after which the strategy ends."""
    return p.Node(title, "stop", note=note)


def repair(title: str, minutes: str, note: str | None = None) -> p.Node:
    """A repair that ends the strategy once its proof holds."""
    return p.Node(title, "repair", minutes, note=note)


NO_SPARK = p.Node(
    "Spark at the tester, lever held",
    minutes="2 min",
    caution="Tester an arm away from fuel.",
    branches=(
        p.Branch(
            "lights every pull",
            p.Node(
                "Smell of the fuel, look in the bowl",
                minutes="6 min",
                branches=(
                    p.Branch(
                        "stale or dirty",
                        repair("Clean the carburettor", "35 min", "Then fresh fuel, dated."),
                        "8 in 10",
                    ),
                    p.Branch(
                        "fresh",
                        p.Node(
                            "Compression, lever held",
                            minutes="5 min",
                            branches=(
                                p.Branch("good", end("Stop and tell the owner", "Not in this chart.")),
                                p.Branch(
                                    "weak",
                                    p.Node(
                                        "Leak-down, blade blocked", minutes="12 min", caution="Lead off and earthed."
                                    ),
                                ),
                            ),
                        ),
                        "2 in 10",
                    ),
                ),
            ),
            "35 in 100",
        ),
        p.Branch(
            "dark",
            p.Node(
                "Stop lead off, try again",
                "access",
                "8 min",
                caution="Plug in, its lead on an earthed tester.",
                branches=(
                    p.Branch(
                        "lights",
                        p.Node(
                            "Meter the stop tab",
                            minutes="3 min",
                            branches=(
                                p.Branch("open when held", repair("Renew the stop lead", "15 min")),
                                p.Branch("closed", repair("Renew the switch", "20 min")),
                            ),
                        ),
                        "4 in 10",
                    ),
                    p.Branch(
                        "dark",
                        p.Node(
                            "Feel the magnets, feeler the gap",
                            minutes="4 min",
                            branches=(
                                p.Branch(
                                    "pull well, gap right",
                                    repair("Renew the spark coil", "30 min", "Ask first: $34.00."),
                                ),
                                p.Branch("weak or rusty", repair("Clean feet and magnets", "10 min")),
                            ),
                        ),
                        "6 in 10",
                    ),
                ),
            ),
            "62 in 100",
        ),
        p.Branch("now and then", p.Node("Wiggle lead and switch", minutes="3 min"), "3 in 100"),
    ),
)

SHOP = p.Shop("Harrow Vale repair bench", ("Tool library, 3 Mill Yard",))
HEAD = p.Head(SHOP, "Wall", "Walk mower, overhead valve", "Will not start", date="25 November 2026")
CHART = p.BenchChart(
    head=HEAD,
    title="Will not start: the order that costs least",
    root=NO_SPARK,
    cautions=(p.Caution("Plug lead off and earthed before a hand goes under the deck."),),
    notes=("Minutes are hands-on. Shares are from 212 machines seen on this bench and stated guesses.",),
)
