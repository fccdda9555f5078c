"""What the simulated dark-room photos assume of bellows, rooms, leaks and phones: ranges and shares, each with its reason.

Own assumptions throughout: no real camera was photographed. Lengths px at a long edge of 2048, light as a share of what saturates.
"""

from __future__ import annotations

SCENES = {"bellows": 0.6, "inside": 0.2, "holder": 0.2}
SIZES = {(1280, 960): 0.3, (1600, 1200): 0.35, (2048, 1536): 0.25, (2592, 1944): 0.1}
RANGES: dict[str, tuple[float, float]] = {
    "albedo": (0.03, 0.09),  # black leather and cloth
    "ridge_wear": (1.1, 2.0),  # worn ridges are paler by this
    "frame_albedo": (0.08, 0.35),  # wood and painted metal
    "pleats": (9, 19),
    "room_light": (0.04, 1.2),  # irradiance that a white sheet would show; log-uniform: from nearly dark to a curtain left open
    "fall_off": (0.0, 0.5),  # towards the corners
    "psf_px": (0.6, 1.3),
    "defocus_px": (0.6, 1.6),  # of the 40 % that are a little out
    "motion_px": (1.0, 5.0),  # of the 50 % that moved a little
    "halo": (0.01, 0.04),  # of the light, scattered in lens and cover glass
    "electrons": (300, 1200),  # at white
    "read_electrons": (1.0, 3.0),
    "merged": (1, 6),  # frames
    "denoise": (0.2, 0.9),
    "sharpen": (0.2, 0.8),
    "quality": (60, 95),
    "hot_pixels": (0, 12),
    "leaks": (0, 5),
    "strength": (0.003, 30.0),  # light of a leak in px of a saturated area; log-uniform over four decades
    "slit_px": (10, 60),
    "scatter": (0.02, 0.08),  # of a leak's light, thrown on the leather around it
    "reflections": (0, 3),
}
SHAPES = {"pinhole": 0.45, "slit": 0.35, "corner": 0.2}
# Photos that should be refused; the rest are good dark ones.
SPOILT = {"room_light": 0.05, "glare": 0.04, "motion": 0.04, "black": 0.05, "focus": 0.05}
SPOILT_RANGES: dict[str, tuple[float, float]] = {
    "room_light": (6.0, 14.0),
    "motion_px": (22.0, 40.0),
    "focus_px": (7.0, 14.0),
    "black": (0.0002, 0.0006),
}


def lines() -> list[str]:
    """The assumptions as lines to print."""
    shares = {"scenes": SCENES, "long edges": {str(size[0]): share for size, share in SIZES.items()}, "leaks": SHAPES, "spoilt": SPOILT}
    said = [f"{name}: " + ", ".join(f"{what} {100 * share:.0f} %" for what, share in parts.items()) for name, parts in shares.items()]
    return said + [f"{name} {low:g} to {high:g}" for name, (low, high) in RANGES.items()]
