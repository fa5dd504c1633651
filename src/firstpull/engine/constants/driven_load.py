"""Constants of the driven load, its drag and its shaking."""

from __future__ import annotations

from firstpull.engine.constants.types import Constant

CONSTANTS: dict[str, Constant] = {
    "jam_nm": Constant(30.0, "N.m", "judgement: a jammed blade or tool against the crank"),
    "packed_nm": Constant(2.5, "N.m", "judgement: a deck packed full"),
    "belt_drag_nm": Constant(2.0, "N.m", "judgement: a belt that does not let go, tool free"),
    "clutch_drag_nm": Constant(1.5, "N.m", "judgement: a dragging blade clutch"),
    "seized_load_nm": Constant(60.0, "N.m", "judgement: a seized pump, coupled"),
    "generator_drag_nm": Constant(0.3, "N.m", "judgement: rotor bearings and fan at pulling speed"),
    "engine_shake_mm_s": Constant(4.0, "mm/s", "judgement: shaking of a sound single-cylinder engine on its deck"),
    "loose_gmm": Constant(500.0, "g.mm", "judgement: imbalance of a blade loose on its adapter"),
    "bent_gmm": Constant(1500.0, "g.mm", "judgement: imbalance of a plainly bent blade"),
    "runout_g": Constant(550.0, "g", "judgement: half the mass of a blade, moved by half the wobble twice"),
    "crack_gmm": Constant(150.0, "g.mm", "judgement: imbalance of a cracked or thin blade"),
    "loose_mount_gain": Constant(
        6.0, "1", "judgement: loose mounts bring the resonance down to working speed, which magnifies 3 to 8 times"
    ),
    "belt_slack_loss": Constant(0.95, "1", "judgement: share of the grip that a hanging belt loses"),
    "belt_glaze_loss": Constant(0.55, "1", "judgement: share of the grip that a polished belt loses"),
    "belt_new_grip": Constant(1.6, "1", "judgement: torque a new belt can pass over the full load"),
    "clutch_new_grip": Constant(1.5, "1", "judgement: the same for a centrifugal clutch at working speed"),
    "clutch_width_rpm": Constant(110.0, "rpm", "judgement: speed over which a centrifugal clutch begins to drag"),
    "packed_load": Constant(0.8, "1", "judgement: load that packing adds"),
    "blunt_load": Constant(0.35, "1", "judgement: load that a round blade adds"),
    "upside_down_load": Constant(0.5, "1", "judgement: load that a blade upside down adds"),
}
