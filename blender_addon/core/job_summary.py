"""The job in words, for who reads it on a screen: the numbers that matter first."""

from __future__ import annotations

from typing import Any

from .bubbles.lean_grid import hour_of
from .case.case import ONE_DIAMETER
from .job_sheet_words import Said
from .sheet.settings import INCHES
from .units import mass_text, stretch_text, time_text, volume_text, weigh_text

CAUTIONS = (
    "A plan only: data sheets, the limits tools are rated for and local rules go first.",
    "Uncured rubber and resin: gloves, eye protection, fresh air, no food near.",
    "Resin heats up as it sets, the more the thicker it is: fill in stages.",
    "Cutting: sharp blade, away from the body, mold flat on the table, cut-proof glove.",
)

CLOSINGS_TOLD = 3
"""The largest pockets only: nobody stops a pour ten times."""


def summary(job: dict[str, Any], folder: str = "") -> str:
    """Return about fifteen lines on a job, then its warnings and the cautions.

    Parameters
    ----------
    job : dict
        As ``job_of`` returns it.
    folder : str, optional
        Where it was written.
    """
    said = Said(inches=job["settings"]["sheet"]["units"] == INCHES)
    lines = [*_numbers(job, said), *_warnings(job, said), *(f"Caution: {one}" for one in CAUTIONS)]
    if folder:
        lines.append(f"Written: {folder} ({len(job['files'])} files, job.json first)")
    return "\n".join(lines) + "\n"


def _line(label: str, *facts: str) -> str:
    return f"{label + ':':<14}{', '.join(facts)}"


def _numbers(job: dict[str, Any], said: Said) -> list[str]:
    case, funnel, cut = job["case"], job["funnel"], job["cut"]
    widest = "" if case["kind"] in ONE_DIAMETER else "widest "
    return [
        _piece(job["scan"], said),
        *_air(job["bubbles"], said),
        _line(
            "Case",
            said.text(case["name"]),
            f"{widest}inside {said.length(case['inner_diameter_mm'])}",
            f"height {said.length(case['height_mm'])}",
            f"least rubber {said.length(case['least_rubber_mm'])}",
        ),
        *_rubber(job["rubber"], said),
        *_closings(job["rubber"]["closings"], job["bubbles"]["pockets"], said),
        _line(
            "Channel",
            f"{said.length(case['channel_mm'])} wide at the back",
            f"funnel throat {_area(said, funnel['throat_area_cm2'], '.2f')}",
            f"bowl {_ml(funnel['bowl_ml'])}",
        ),
        *_holding(case, said),
        *_cut(cut, said),
        *_copy(job["resin"], said),
        _line("Parts", _parts(job["parts"])),
        *_closing(job["closing"], said),
    ]


def _cut(cut: dict[str, Any], said: Said) -> list[str]:
    """Return the cut, and both ways to open it side by side."""
    if cut["kind"] == "none":
        return [_line("Cut", "none found; the warnings say where and why")]
    where = "up from the base" if cut["kind"] == "one slit" else "all round the piece"
    pull = cut["pull"]
    lines = [
        _line(
            "Cut",
            cut["kind"],
            f"{said.length(cut['slit_length_mm'])} {where}",
            f"uncut the rubber would stretch {_stretch(cut['needed_stretch'])}",
            f"{_percent(cut['allowed_stretch'])} is safe",
            *([f"to open: {pull['word']} ({_range_n(pull)})"] if pull else []),
        )
    ]
    ways = [
        f"{one['kind']} cuts {said.length(one['length_mm'])} of the piece and"
        f" {_area(said, one['area_cm2'], '.0f')} of rubber and leaves"
        f" {_stretch(one['stretch'])} to stretch{_behind(one)}"
        for one in cut["ways"]
    ]
    if pull and pull["suction_n"]:
        holds = f"suction can hold the piece with up to {_number(pull['suction_n'], 0)} N"
        lines.append(_line("To pull", "let air in at the cut first", holds))
    if lips := cut["lips"]:
        words = (
            f"{said.length(lips['length_mm'])} each, let {said.length(lips['girth_mm'])} round"
            f" pass, with the ring that they open, at {_stretch(lips['stretch'])}"
        )
        alone = f"by themselves {said.length(lips['alone_mm'])} of slit would do"
        lines.append(_line("Its lips", words, alone))
    return lines + ([_line("Either way", *ways)] if ways else [])


def _behind(way: dict[str, Any]) -> str:
    """Return what halves leave behind the piece, if it is worth a word."""
    behind_ml = way["undercut_ml"]
    return f" and {_ml(behind_ml)} of rubber behind the piece" if behind_ml >= 1.0 else ""


def _range_n(pull: dict[str, Any]) -> str:
    """Return a pull by its bounds."""
    return f"{_number(pull['least_n'], 0)} to {_number(pull['most_n'], 0)} N"


def _piece(scan: dict[str, Any], said: Said) -> str:
    holes = scan["holes_closed"]
    return _line(
        "Piece",
        scan["file"],
        said.size(scan["size_mm"]),
        _ml(scan["volume_ml"]),
        f"{scan['triangles']} triangles",
        "1 hole closed" if holes == 1 else f"{holes} holes closed",
    )


def _air(bubbles: dict[str, Any], said: Said) -> list[str]:
    pockets, lean = bubbles["pockets"], bubbles["lean"]
    places = "1 pocket" if len(pockets) == 1 else f"{len(pockets)} pockets"
    bound = max(bubbles["bound_ml"] or 0.0, 0.1)  # nobody weighs less
    trapped = f"{_ml(bubbles['trapped_ml'])} in {places} (to within {_ml(bound)})"
    lines = [_line("Trapped air", trapped)]
    for one in pockets[:1]:
        shut = {"sealed": "closed off", "under foot": "shut by the board"}
        ends = shut.get(one["kind"], f"closes at {said.length(one['escape_mm'])}")
        lines.append(
            _line(
                "  largest",
                _ml(one["volume_ml"]),
                f"{said.length(one['depth_mm'])} deep",
                f"top at {said.length(one['ceiling_mm'])}",
                ends,
            )
        )
    if lean["degrees"] and (lean["trapped_ml"] or 0.0) < (bubbles["trapped_ml"] or 0.0):
        where = f"{_number(lean['degrees'], 0)} degrees to {hour_of(lean['towards_deg'])} o'clock"
        lines.append(
            _line("Lean", where, "the channel at 12", f"would trap {_ml(lean['trapped_ml'])}")
        )
    area, mass = _area(said, bubbles["prebrush_area_cm2"]), _g(bubbles["prebrush_g"])
    return [
        *lines,
        _line("Brush first", area, f"{mass} of rubber", "see pictures/below.svg"),
    ]


def _closings(
    closings: list[dict[str, Any]], pockets: list[dict[str, Any]], said: Said
) -> list[str]:
    """Say where to slow down: the largest pockets, in the order in which they close."""
    told = [one for one in closings if one["pocket"] < CLOSINGS_TOLD]
    parts = [
        f"at {said.length(one['level_z_mm'])} ({_ml(one['rubber_ml'])} poured) {volume} are shut in"
        for one in told
        for volume in [_ml(pockets[one["pocket"]]["volume_ml"])]
    ]
    return [_line("Slow down", *parts)] if parts else []


def _rubber(rubber: dict[str, Any], said: Said) -> list[str]:
    batches = rubber["batches"]
    a_g, b_g = (sum(one[key] or 0.0 for one in batches) for key in ("a_g", "b_g"))
    cups = "1 cup" if len(batches) == 1 else f"{len(batches)} cups"
    return [
        _line(
            "Rubber",
            f"weigh out A {weigh_text(a_g)} and B {weigh_text(b_g)} in {cups}",
            f"{_ml(rubber['mix_ml'])} with {_number(rubber['spare_percent'], 0)} % spare",
            *_cost(rubber),
        ),
        *_coat(rubber["coat"]),
        _line(
            "Pour",
            f"{_s(rubber['pour_s'])} in one thin stream down the channel",
            f"up to {said.length(rubber['level_z_mm'])}",
            f"pot life {_s(rubber['pot_life_s'])}",
        ),
        _line(
            "In time",
            _in_time(rubber),
            f"degas in a vessel of {_ml(rubber['vessel_ml'])}",
            f"{_g(rubber['block']['lift_g'])} to lift with the clay in it",
        ),
    ]


def _in_time(rubber: dict[str, Any]) -> str:
    """Say in a word whether it can be poured in time, then why; None is a pour without an end."""
    fits, needs_s = rubber["budget"]["fits"], rubber["needs_s"]
    if needs_s is None:
        return f"{fits} (it sets before it is through the funnel)"
    return f"{fits} (mix, degas and pour take {_s(needs_s)} a cup)"


def _coat(coat: dict[str, Any] | None) -> list[str]:
    """Say what to weigh out for the brush."""
    if not coat:
        return []
    parts = f"A {weigh_text(coat['a_g'])} and B {weigh_text(coat['b_g'])} before the pour"
    return [_line("Brush coat", parts)]


def _cost(amount: dict[str, Any]) -> list[str]:
    return [] if amount["cost"] is None else [f"cost {_number(amount['cost'], 2)}"]


def _holding(case: dict[str, Any], said: Said) -> list[str]:
    lines = [said.text(one) for one in case["holding"]["lines"]] if case["holding"] else []
    heads = ("Must hold:", *("" for _ in lines[1:]))
    return [f"{head:<14}{line}" for head, line in zip(heads, lines, strict=False)]


def _copy(resin: dict[str, Any], said: Said) -> list[str]:
    fills = " + ".join(_g(one["g"]) for one in resin["fills"])
    coats = "1 coat" if len(resin["coats"]) == 1 else f"{len(resin['coats'])} coats"
    height_mm = resin["shrinkage"][-1]["size_mm"][2]
    return [
        _line(
            "Copy",
            f"{_ml(resin['copy_ml'])} = {_g(resin['copy_g'])} of resin",
            f"shell {_g(resin['shell_g'])} in {coats}",
            *([f"fills {fills}"] if fills else []),
            *_cost(resin),
        ),
        *([_line("Fills", said.text(resin["fills_because"]))] if resin["fills_because"] else []),
        _line(
            "Stop line",
            f"{said.length(resin['true_base_mm_below_rim'])} below the rim is the true base",
            f"{_g(resin['sanded_g'])} over it are sanded off",
            f"{resin['shrinkage'][-1]['name']} {said.length(height_mm)} high",
        ),
    ]


def _parts(parts: list[dict[str, Any]]) -> str:
    if not parts:
        return "nothing to print"
    return ", ".join(
        one["name"] if one["quantity"] == 1 else f"{one['quantity']} x {one['name']}"
        for one in parts
    )


def _closing(closing: dict[str, Any] | None, said: Said) -> list[str]:
    """Return what closes the seams; nothing where it is not known."""
    if closing is None:
        return []
    each, seams = len(closing["heights_mm"]), closing["seams"]
    long = f" x {closing['bolt_length_mm']:g}" if closing["kind"] == "bolts" else " wide"
    return [
        _line(
            "Close",
            f"{closing['count']} {closing['kind']} {said.text(closing['size'])}{long}",
            f"{each} on each of {seams} seams",
            f"up to {_number(closing['pull_each_n'], 0)} N on each",
        )
    ]


def _warnings(job: dict[str, Any], said: Said) -> list[str]:
    return [f"Warning: {said.text(one['text'])}" for one in job["warnings"]]


def _number(value: float | None, digits: int = 1) -> str:
    return "unknown" if value is None else f"{value:.{digits}f}"


def _area(said: Said, area_cm2: float | None, digits: str = ".1f") -> str:
    return said.area(area_cm2, digits).replace("\xb2", "2")  # not every terminal shows it


def _percent(share: float | None) -> str:
    return "unknown" if share is None else f"{100.0 * share:.0f} %"


def _stretch(share: float | None) -> str:
    return "unknown" if share is None else stretch_text(share).replace("%", " %")


def _ml(value: float | None) -> str:
    return "unknown" if value is None else volume_text(value)


def _g(value: float | None) -> str:
    return "unknown" if value is None else mass_text(value)


def _s(value: float | None) -> str:
    return "unknown" if value is None else time_text(value)
