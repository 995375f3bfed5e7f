"""Working aids of a section: the recorded case as figures that open, and fields for a script to work others out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from witnessmark.model.contract import Edition
from witnessmark.model.finding import Outcome
from witnessmark.model.quantity import Worked
from witnessmark.pages.context import Context
from witnessmark.pages.figure import NO_BREAK, UNIT_SIGNS, Figure, display_figure, figure_text
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView, free_text
from witnessmark.pages.words import choice_words, clean
from witnessmark.pages.working import WorkingView, working_view
from witnessmark.workings.aids import SectionAids, SizeAid
from witnessmark.workings.section_rating import SectionRating

MAY_RUN = "may-run"
SCRIPTED = {
    "drain-time": "Time to drain, at least",
    "expansion": "Change of length",
    "dose": "Product",
    "flow": "Flow",
    "flush-time": "Time to flush",
    "hole-leak": "Leak",
    "filled-mass": "Mass of a metre",
}
"""Formulas that the script knows too, with the words before its result; it takes inputs in the working's order."""


class AidForm(NamedTuple):
    """Inputs for the script: which formula, unit and places of the result, and the envelope where it needs one."""

    formula: str
    words: str
    inputs: str
    """Label, unit and recorded value of each field, kept short: the script makes the fields."""
    unit: str
    places: int
    envelope: str


@dataclass(frozen=True, slots=True)
class AidView:
    """One aid: the recorded case first, then the fields for other values, and what to mind."""

    title: str
    words: str
    figures: tuple[WorkingView, ...]
    forms: tuple[AidForm, ...]
    note: str


@dataclass(frozen=True, slots=True)
class AidsView:
    """All aids of a section; the tag edition holds the words alone."""

    words: str
    blocks: tuple[AidView, ...]
    sizes: TableView | None


def _field(label: str, unit: str, value: str) -> str:
    """One field as the script reads it; its marks are taken out of the words."""
    parts = (clean(part).replace("|", "/").replace(";", ",") for part in (label, unit, value))
    return "|".join(parts)


def form_of(worked: Worked) -> AidForm | None:
    """Fields with the inputs of a working; ``None`` where it is not known or its inputs are no plain numbers."""
    if worked.value is None or worked.formula_id not in SCRIPTED:
        return None
    inputs = []
    for each in worked.inputs:
        number, _, unit = each.value.partition(" ")
        try:
            float(number)
        except ValueError:
            return None
        inputs.append(_field(each.name, UNIT_SIGNS.get(unit, unit), number))
    unit = UNIT_SIGNS.get(worked.unit, worked.unit)
    return AidForm(worked.formula_id, SCRIPTED[worked.formula_id], ";".join(inputs), unit, worked.places, "")


def _text(worked: Worked) -> str:
    assert worked.value is not None
    return figure_text(Figure(worked.value, worked.unit, worked.places))


def may_run_words(rating: SectionRating) -> str:
    """Whether the records allow the recorded case."""
    state = rating.operating
    if rating.complete and state.pressure_bar.value is not None and state.temperature_c.value is not None:
        at = f"{display_figure(state.pressure_bar.value, 'bar')} and {display_figure(state.temperature_c.value, '°C')}"
        if state.outcome is Outcome.PASS:
            return f"The records allow {at}."
        if state.outcome is Outcome.FAIL:
            return f"The records do not allow {at}."
    return "The records do not say what this section may run at."


class AidReader:
    """Makes the aids of an edition."""

    def __init__(self, context: Context) -> None:
        self._context = context

    def view(self, section_id: str) -> AidsView | None:
        """The aids of a section; ``None`` where nothing was worked out."""
        workings = self._context.outcome.workings
        aids = workings.aids.get(section_id)
        if aids is None:
            return None
        if self._context.edition is Edition.TAG:
            words = drain_words(aids)
            return AidsView(words, (), None) if words else None
        rating = workings.ratings.get(section_id)
        blocks = [block for block in self._blocks(aids) if block.figures or block.forms]
        if rating is not None and rating.complete and rating.envelope:
            blocks.insert(0, _may_run(rating))
        sizes = self._sizes(aids)
        return AidsView("", tuple(blocks), sizes) if blocks or sizes else None

    def _blocks(self, aids: SectionAids) -> Iterator[AidView]:
        size = max(aids.sizes, key=lambda each: each.working.bore_mm.value or 0.0, default=None)
        more = "Fittings, valves and plant hold more. Open the vent; take the heat and the pressure off first."
        yield self._block("Drain it", drain_words(aids), (aids.drain_time_s,), more)
        known = [(hole, leak) for hole, leak in aids.hole_leaks if leak.known]
        words = "; ".join(f"{hole:g} mm: {_text(leak)}" for hole, leak in known)
        first = "A hole is not round: take it as a first guess."
        yield self._block("Leak through a hole", words, tuple(leak for _, leak in known[1:2]), first)
        flushing = (aids.flush_flow_l_s, aids.flush_time_min)
        yield self._block("Flow and flush", "", flushing, "The flow is that of the largest pipe; dead legs lag behind.")
        yield self._block("Dose it", "", (aids.dose_l,), "The dose is that of the product's data sheet.")
        yield self._block("Glycol", "", (aids.glycol_l,), "")
        if size is not None:
            name = size_words(size)
            yield self._block(f"Expansion, {name}", "", (size.expansion_mm,), "")
            sums = (aids.empty_mass_kg, aids.filled_mass_kg)
            yield self._block(f"Load, {name}", "", (size.filled_mass_kg_m,), "Add lagging and fittings.", sums)

    def _block(
        self, title: str, words: str, figures: Sequence[Worked], note: str, sums: Sequence[Worked] = ()
    ) -> AidView:
        """``sums`` are figures of the whole section, which no form works out for other values."""
        edition, words_of = self._context.edition, self._context.words
        known = [each for each in figures if each.known]
        forms = [form_of(each) for each in known]
        known += [each for each in sums if each.known]
        return AidView(
            title,
            words,
            # Source and limits stand on the formula's page, one link away: every section would repeat them.
            tuple(replace(working_view(each, edition, words_of=words_of), source="", limits="") for each in known),
            tuple(form for form in forms if form is not None),
            note,
        )

    def _sizes(self, aids: SectionAids) -> TableView | None:
        known = [s for s in aids.sizes if s.working.tube.od_mm is not None]
        if not known:
            return None
        spacings = {(s.material, s.od_mm): s for s in aids.supports}
        columns = (Column("Tube"), Column("Length", True), Column("Expansion, lowest to highest temperature", True),
                   Column("Mass, filled", True), Column("Flow at 1 m/s", True),
                   Column("Supports apart, horizontal", True), Column("Supports apart, vertical", True))  # fmt: skip
        rows = []
        for size in known:
            tube = size.working.tube
            spacing = spacings.get((tube.material or "", tube.od_mm or 0.0))
            rows.append(
                Row(
                    "",
                    (
                        free_text(size_words(size)),
                        _UNKNOWN if tube.length_m is None else Cell(display_figure(tube.length_m, "m"), mark=NUMBER),
                        _cell(size.expansion_mm),
                        _cell(size.filled_mass_kg_m),
                        _cell(size.flow_at_one_m_s),
                        _UNKNOWN if spacing is None else _cell(spacing.horizontal_m),
                        _UNKNOWN if spacing is None else _cell(spacing.vertical_m),
                    ),
                )
            )
        basis = dict.fromkeys(i.basis for s in aids.supports for i in s.horizontal_m.inputs if i.basis)
        note = f"Spacing of supports: {clean('; '.join(basis))}." if basis else ""
        return TableView("By size of tube", columns, tuple(rows), "", note)


_UNKNOWN = Cell("not in the records", mark=NONE)


def _cell(worked: Worked) -> Cell:
    return _UNKNOWN if worked.value is None else Cell(_text(worked), mark=NUMBER)


def size_words(size: SizeAid) -> str:
    """'54 mm copper'."""
    tube = size.working.tube
    od = display_figure(tube.od_mm, "mm") if tube.od_mm is not None else "size not recorded"
    return f"{od} {choice_words(tube.material)}" if tube.material else od


def drain_words(aids: SectionAids) -> str:
    """Volume and least time to drain in one sentence; '' where neither is known."""
    volume, seconds = aids.drain_volume_l, aids.drain_time_s
    if volume.value is None:
        return ""
    words = f"The tube holds {_text(volume)}; fittings and plant hold more."
    if seconds.value is not None:
        drain = next((i.value for i in seconds.inputs if i.name == "bore of the drain"), "")
        through = f" through a {drain.replace(' ', NO_BREAK)} drain" if drain else ""
        words += f" Draining takes at least {_text(seconds)}{through}, with the vent open."
    return words


def _may_run(rating: SectionRating) -> AidView:
    state = rating.operating
    points = " ".join(f"{p.temperature_c:.10g},{p.pressure_bar:.10g}" for p in rating.envelope)
    inputs = ";".join(
        _field(label, unit, "" if value is None else f"{value:.7g}")
        for label, unit, value in (
            ("pressure at the lowest point", "bar", state.pressure_bar.value),
            ("temperature", "°C", state.temperature_c.value),
        )
    )
    return AidView(
        "May it run at this pressure and temperature?",
        may_run_words(rating),
        (),
        (AidForm(MAY_RUN, "Answer", inputs, "", 0, points),),
        "The answer is that of the envelope above, for pipework as recorded; plant, pumps and relief valves have "
        "limits of their own.",
    )
