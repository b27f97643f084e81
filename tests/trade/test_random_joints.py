"""Laws over random joints: nothing fails, and nothing printed for a wrench leaves its band."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly, Defaults
from sequencer.model.common import Link
from sequencer.model.compounds import Compound
from sequencer.model.fastening import (
    ArmOn,
    Behind,
    Grade,
    Hole,
    Into,
    Joint,
    OtherTorque,
    PassValue,
    TighteningPass,
    Tool,
    Torque,
    TorqueValue,
    TurnLimit,
)
from sequencer.model.quantities import converted, read_amount
from sequencer.model.steps import Step
from sequencer.model.units import UNITS
from sequencer.trade.findings import findings
from sequencer.trade.worked import bench_of

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount

TORQUE_UNITS = sorted({unit.symbol for unit in UNITS["torque"].values()})


@st.composite
def figures(draw: st.DrawFn, unit: str, most: int = 400) -> str:
    """A figure as people type it: plain, a range, a tolerance, open at one end."""
    low = draw(st.integers(1, most * 10))
    value = draw(st.sampled_from((f"{low / 10:g}", f"{low // 10 + 1}")))
    wide = f"{float(value) + draw(st.integers(0, 50)) / 10:g}"
    shape = draw(
        st.sampled_from(("{} {u}", "{} to {w} {u}", "{} {u} ± 5 %", "at most {} {u}", "{} {u} min"))
    )
    return shape.format(value, u=unit, w=wide)


@st.composite
def torques(draw: st.DrawFn) -> Amount:
    return read_amount(draw(figures(draw(st.sampled_from(TORQUE_UNITS)))), ("torque",))


def lengths() -> st.SearchStrategy[Amount]:
    text = st.builds("{:g} {}".format, st.integers(0, 600).map(lambda n: n / 8), st.just("mm"))
    inches = st.builds("{}/16 in".format, st.integers(1, 40))
    return st.one_of(text, inches).map(lambda t: read_amount(t, ("length",)))


@st.composite
def angles(draw: st.DrawFn) -> Amount:
    return read_amount(draw(figures("°", 180)), ("angle",))


@st.composite
def values(draw: st.DrawFn) -> TorqueValue:
    amount = draw(st.none() | torques())
    angle = draw(st.none() | angles())
    return TorqueValue(text=amount.text if amount else "finger tight", amount=amount, angle=angle)


@st.composite
def passes(draw: st.DrawFn) -> TighteningPass:
    name = draw(st.sampled_from(("", "first", "second")))
    kind = draw(st.integers(0, 3))
    if kind == 0:
        share = Fraction(draw(st.integers(1, 20)), 20)
        value = PassValue(f"{float(share * 100):g} %", share=share)
    elif kind == 1:
        torque = draw(torques())
        value = PassValue(torque.text, torque=torque)
    else:
        angle = draw(angles())
        back = kind == 3
        value = PassValue(f"back {angle.text}" if back else angle.text, angle=angle, back=back)
    return TighteningPass(value=value, name=name)


SURFACES = st.sampled_from(("", "dry", "oiled", "moly", "anti-seize", "paste", "locker"))
GRADES = st.sampled_from(("", "8.8", "A2-70", "5", "SAE 8", "B7", "wood"))
PROOFS = st.none() | st.sampled_from(("970 MPa", "0 MPa", "120 ksi")).map(
    lambda text: read_amount(text, ("pressure",))
)
THREADS = st.sampled_from(("", "M6", "M8×1", "3/8-16", "1/4-28", "#10-32", "1-8", "G1/4", "M7.3"))


def joints() -> st.SearchStrategy[Joint]:
    """Joints with any of their fields."""
    other = st.builds(
        OtherTorque,
        value=values(),
        surface=SURFACES,
        grade=GRADES,
        source=st.sampled_from(("", "a", "b")),
    )
    torque = st.builds(
        Torque,
        value=values(),
        also=st.lists(other, max_size=3).map(tuple),
        because=st.sampled_from(("", "so")),
        surface=SURFACES,
        grade=GRADES,
        source=st.sampled_from(("", "a", "b")),
    )
    limit = st.builds(
        TurnLimit,
        passes=st.sampled_from((("first",), ("first", "second"), ("third",))),
        most=angles(),
    )
    point = st.tuples(*[st.integers(0, 3).map(Fraction)] * 2)
    return st.builds(
        Joint,
        id=st.sampled_from(("j", "k")),
        thread=THREADS,
        grade=st.none() | st.builds(Grade, name=GRADES, proof=PROOFS),
        count=st.integers(1, 12),
        places=st.lists(st.sampled_from("abcd"), max_size=4).map(tuple),
        surface=SURFACES,
        torque=st.none() | torque,
        pattern=st.sampled_from(("", "cross", "around", "inside out")),
        at=st.lists(point, max_size=6).map(tuple),
        passes=st.lists(passes(), max_size=5).map(tuple),
        turn_limit=st.none() | limit,
        length=st.none() | lengths(),
        grip=st.none() | lengths(),
        washers=st.none() | lengths(),
        nut=st.none() | lengths(),
        hole=st.none() | st.builds(Hole, depth=lengths(), keep_off=st.none() | lengths()),
        into=st.none()
        | st.builds(Into, material=st.sampled_from(("steel", "zinc")), least=st.none() | lengths()),
        behind=st.none()
        | st.builds(Behind, room=lengths(), part=st.sampled_from(((), (Link("brush", "part"),)))),
        adapter=st.none()
        | st.builds(ArmOn, length=lengths(), angle=st.none() | st.just(_angle("90°")) | angles()),
        drag=st.sampled_from(("", "add", "included")),
        align=st.sampled_from(("", "castle")),
    )


def _angle(text: str) -> Amount:
    return read_amount(text, ("angle",))


@st.composite
def tools(draw: st.DrawFn) -> Tool:
    unit, other = draw(st.sampled_from(TORQUE_UNITS)), draw(st.sampled_from(TORQUE_UNITS))
    top = draw(st.integers(1, 300))
    scale = draw(st.sampled_from((f"{top / 5:g} to {top} {unit}", f"at most {top} {unit}")))
    reads = draw(
        st.none() | st.sampled_from((f"1 {unit}", f"0.5 {unit}", f"0 {unit}", f"1 {other}"))
    )
    return Tool(
        id=draw(st.sampled_from(("big", "small"))),
        range_=draw(st.none() | st.just(read_amount(scale, ("torque",)))),
        reads=None if reads is None else read_amount(reads, ("torque",)),
        length=draw(st.none() | lengths()),
    )


@st.composite
def models(draw: st.DrawFn) -> Assembly:
    made = draw(st.lists(joints(), min_size=1, max_size=2, unique_by=lambda joint: joint.id))
    kit = draw(st.lists(tools(), max_size=2, unique_by=lambda tool: tool.id))
    entries = draw(st.lists(st.sampled_from(kit), max_size=2)) if kit else []
    step = Step(
        id="s",
        do="Tighten it.",
        tighten=tuple(Link(joint.id, "joint") for joint in made),
        tools=tuple((Link(tool.id, "tool"),) for tool in entries),
    )
    own = Step(id="t", do="And that.", torque=draw(st.none() | st.builds(Torque, value=values())))
    return Assembly(
        assembly="unit",
        steps=(step, own),
        joints=tuple(made),
        tools=tuple(kit),
        defaults=Defaults(surface=draw(SURFACES), source=draw(st.sampled_from(("", "a")))),
        compounds=(
            Compound(id="paste", kind="grease", nut_factor=Fraction("0.13")),
            Compound(id="locker", kind="thread locker"),
        ),
    )


@given(models())
@settings(max_examples=70, deadline=None)
def test_whatever_a_joint_states_its_findings_are_whole(assembly: Assembly) -> None:
    for finding in findings(assembly):
        assert finding.message
        assert not finding.message.endswith(".")
        assert finding.path
        assert finding.why
        assert finding.fix
        assert finding.step in ("s", "t")
        texts = (finding.message, finding.why, finding.fix, *(fact.text for fact in finding.facts))
        assert not any("None" in text or "Fraction" in text or "  " in text for text in texts)


@given(models())
@settings(max_examples=60, deadline=None)
def test_nothing_printed_for_a_wrench_leaves_its_band(assembly: Assembly) -> None:
    bench = bench_of(assembly)
    for joint in assembly.joints:
        worked = bench.worked(joint)
        for one in worked.passes:
            for setting in one.settings:
                if setting.text and setting.exact:
                    _lies_in(setting.text, setting.target.low, setting.target.high)
                elif setting.text:
                    assert _printed(setting.text) <= setting.target.high
        for wrench in worked.torque.wrenches if worked.torque else ():
            target: Any = getattr(wrench.setting, "target", None)
            for text in (wrench.text, wrench.low, wrench.high):
                if text:
                    _lies_in(text, target.low, target.high)


def _printed(text: str) -> Fraction:
    return read_amount(text, ("torque",)).value


def _lies_in(text: str, low: Fraction, high: Fraction) -> None:
    assert low <= _printed(text) <= high


@given(models())
@settings(max_examples=25, deadline=None)
def test_each_fastener_has_its_turn_once(assembly: Assembly) -> None:
    for joint in assembly.joints:
        worked = bench_of(assembly).worked(joint)
        assert sorted(worked.order) == list(range(1, joint.count + 1))
        assert len(worked.labels) == joint.count


@given(torques(), st.sampled_from(TORQUE_UNITS))
@settings(max_examples=60, deadline=None)
def test_a_wrench_without_marks_shows_any_torque_in_its_own_unit(amount: Amount, unit: str) -> None:
    other = UNITS["torque"][unit]
    top = converted(amount.value, amount.unit, other)
    scale = read_amount(f"at most {int(top) + 1} {unit}", ("torque",))
    value = TorqueValue(text=amount.text, amount=amount)
    joint = Joint(id="j", torque=Torque(value=value))
    unit_ = Assembly(
        assembly="unit",
        joints=(joint,),
        tools=(Tool(id="tw", range_=scale),),
        steps=(Step(id="s", do="Tighten it.", tighten=(Link("j", "joint"),)),),
    )
    torque = bench_of(unit_).worked(joint).torque
    assert torque is not None
    (wrench,) = torque.wrenches
    low, high = (
        None if end is None else converted(end, amount.unit, other)
        for end in (amount.low, amount.high)
    )
    printed = _printed(wrench.text)
    if low is not None and low != high:
        assert low <= printed
    if high is not None and low != high:
        assert printed <= high
