"""Starting: the chance that some pulls start it, and whether it would keep running.

No parameters of its own: spark, compression, mixture, breathing and timing come from the other systems. A trial
repair (K12 lent-plug, lent-coil, K21 primed, fresh-fuel, a loosened cap) reads start_chance or would_run in that
arrangement. K21 fires_on_prime. Complaints: will not start start_chance_turned (who cannot turn it complains of the
rope or the key), coughs but will not catch coughs, starts cold not hot fails_hot_only, hot not cold fails_cold_only,
hard start pulls_turned, drill or hard pull only hard_pull_gain.
"""

from __future__ import annotations

from firstpull.engine.vocabulary.types import Observable, Parameter, Size

PARAMETERS: tuple[Parameter, ...] = ()

OBSERVABLES: tuple[Observable, ...] = (
    Observable("start_chance", "1", "chance that five pulls start it and it keeps running, as arranged"),
    Observable("start_chance_hot", "1", "the same on the warm engine, whatever is arranged"),
    Observable(
        "start_chance_turned",
        "1",
        "chance that five pulls start it and it keeps running, the crank taken to turn as it should",
    ),
    Observable("fails_hot_only", "1", "how surely it starts cold and does not start hot, the crank taken to turn"),
    Observable("fails_cold_only", "1", "how surely it starts hot and does not start cold, the crank taken to turn"),
    Observable("pulls_turned", "1", "expected number of pulls, at most 20, the crank taken to turn as it should"),
    Observable("pull_start_chance", "1", "chance that one pull starts it, as arranged"),
    Observable("pulls_to_start", "1", "expected number of pulls, at most 20"),
    Observable("fires_on_prime", "1", "chance that it fires on a few drops of fresh fuel in the intake"),
    Observable("coughs", "1", "chance that five pulls make it fire but it does not keep running"),
    Observable("hard_pull_gain", "1", "how much a pull half as fast again adds to the chance of starting"),
    Observable("would_run", "1", "how surely it would keep running once started; above 0.5 it runs"),
)

SIZES: tuple[Size, ...] = ()
