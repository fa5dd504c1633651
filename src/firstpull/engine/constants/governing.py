"""Constants of governing and hunting."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "friction_share": Constant(0.20, "1", "judgement: engine friction over full-throttle gross torque"),
    "no_load_share": Constant(0.10, "1", "judgement: blade windage and the like at no load, over the same"),
    "throttle_curve": Constant(0.5, "1", "judgement: gross torque rises as 1-exp(-x/0.5) with throttle travel"),
    "main_starts_at": Constant(0.45, "1", "judgement: throttle travel at which the main nozzle starts to flow"),
    "main_stops_at": Constant(0.18, "1", "judgement: throttle travel at which it stops again"),
    "film_lag_s": Constant(0.25, "s", "judgement: fuel film on the intake wall"),
    "arm_hz": Constant(8.0, "Hz", "judgement: natural frequency of governor arm and spring, 7-11"),
    "arm_damping": Constant(0.75, "1", "judgement"),
    "filling_lag_s": Constant(0.04, "s", "three quarters of a four-stroke cycle at 3000 r/min and filling"),
    "wander_share": Constant(1.0, "1", "judgement: how much of its lost motion a governed engine wanders through"),
    "wander_hz": Constant(0.3, "Hz", "judgement: pace of that wandering, 0.2-0.4"),
    "friction_as_play": Constant(0.25, "1", "judgement: stickiness felt as lost motion, share of travel"),
    "hole_ratio": Constant(0.52, "1", "judgement: droop over that of the next hole outward"),
    "hole_speed": Constant(0.03, "1", "judgement: change of set speed for each hole"),
    "runaway_share": Constant(1.55, "1", "judgement: speed at open throttle without governor over set speed, at most"),
    "spring_off_share": Constant(0.62, "1", "judgement: speed without governor spring over set speed"),
    "vane_runaway": Constant(0.95, "1", "judgement: a vane that is gone governs nothing"),
    "overspeed_width": Constant(0.03, "1", "judgement"),
    "surge_rpm": Constant(260.0, "rpm", "judgement: swing of an ungoverned engine that surges lean"),
    "film_surge_hz": Constant(1.1, "Hz", "judgement: pace of an ungoverned lean surge"),
    "screw_speed_gain": Constant(0.12, "1", "judgement: an ungoverned engine speeds up by this for each step leaner"),
    "stuck_travel": Constant(0.55, "1", "judgement: throttle travel at which a stuck linkage holds it"),
    "stuck_friction": Constant(0.7, "1", "judgement: stickiness above which the governor no longer moves it"),
    "load_calms": Constant(0.3, "1", "judgement: swing under load over swing without"),
    "races_share": Constant(1.3, "1", "judgement: idle over usual idle that half of the people call racing"),
    "governed_idle_share": Constant(0.4, "1", "judgement: how much of a rise of idle a governor leaves"),
    "play_droop": Constant(0.6, "1", "judgement: droop that lost motion adds, for the full travel"),
}
