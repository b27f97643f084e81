"""A model with some of everything, and the ways in which tests spoil it."""

from __future__ import annotations

from textwrap import dedent

from hypothesis import strategies as st

MODEL = dedent(
    """\
    assembly: feed-pump
    title: Feed pump, reseal
    prints: {torque: [N·m, ft·lbf], length: [mm, in]}
    sources: {card: Workshop card 3}
    parts:
      housing: {name: Housing, mass: 9.5 kg, largest: {value: 40 mm, why: rim}}
      screws: {name: Cap screw 3/8-16, quantity: 4, spare: 0}
      seal: Lip seal
      sleeve: {name: Sleeve, aid: true, at_start: fitted}
    tools: {wrench: {name: Torque wrench, needs: 60 mm}, key: {range: 1 to 2 N·m}, bar: }
    units: {rotor: {name: Rotor, base: seal}}
    joints:
      cover: {thread: M8, count: 4, torque: {value: 60 ft-lb, source: card}}
    checks:
      bore: {measure: Bore, with: wrench, limit: 25.02 to 25.06 mm, else: renew housing,
        upset_by: [press], needs_open: {top: {room: 50 mm, shut_by: rotor}}}
    sections:
      base: {title: Base, after: [], in_order: true, unit: rotor}
      rest:
    steps:
      clean: Wipe it, inside and out.
      press:
        section: base
        do: |
          Press it in.
          Turn it.
        fits: {seal: lip inwards}
        after: {step: clean, why: dust}
        takes_off: sleeve
        time: 1 h 30 min
        leaves: loose
      close:
        section: rest
        do: Drive the screws home.
        fits: [housing, 4 screws, rotor]
        after: [clean, {section: base}, all]
        needs: {state: locked, why: it turns}
        tools: [[wrench, {tool: key, why: no room}], bar]
        ways_in:
          top: {opening: 40 mm, shut_by: seal}
        tighten: cover
        check: [bore]
        secures: press     # and so it stays
        hold: inspector
      ease: {do: Ease it., loosens: [cover, {step: press}], not_while: locked}
      lock: Lock it.
      free: Free it.
      turn: Turn it.
    together:
      - [press, close]
    trials:
      gap: {steps: turn, settles: [screws], why: gap}
    one_of:
      - {steps: [ease, clean], before: close}
    states:
      locked: {begins: lock, ends: {step: free, why: air}, keep: position}
    lines:
      axis:
        shaft: housing
        ends: {left: {shut_by: seal}, right: 40 mm}
        order: [{shoulder: 1/2 in}, {part: rotor, bore: 41 mm, seat: 40 mm, od: 50 mm, from: left}]
    """
)
PIECES = st.one_of(
    st.sampled_from(
        [
            *(
                "\t",
                "\r",
                "\n",
                " ",
                ":",
                ": ",
                "- ",
                "#",
                " #1",
                "{",
                "}",
                "[",
                "]",
                ",",
                "'",
                '"',
            ),
            *("|", ">", "&a ", "*a", "!x ", "<<: ", "---\n", "...\n", "? ", "%", "@", "`", "~"),
            *("\\", '"\\x07"', '"\\ud800"', '"\\U00110000"', '"\\Uffffffff"'),
            *("\u00a0", "\u200b", "\ufeff", "\u2028", "\x85", "\0", "\x1b", "\ud800", "\ufffd"),
            *("null", "é", "日本", "🔧", "½", "1e999", "9**9", "1,500", "steps:", "x" * 300),
        ]
    ),
    st.text(max_size=4),
)


@st.composite
def spoiled_models(draw: st.DrawFn) -> str:
    """Spoil the model above in a few places: pieces put in or taken out, lines moved about."""
    text = MODEL
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        kind = draw(st.sampled_from(["insert", "delete", "replace", "swap", "repeat", "indent"]))
        if kind in ("insert", "delete", "replace"):
            gone = 0 if kind == "insert" else draw(st.integers(1, 8))
            put = "" if kind == "delete" else draw(PIECES)
            text = text[:at] + put + text[at + gone :]
            continue
        lines = text.split("\n")
        one, other = (draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        if kind == "swap":
            lines[one], lines[other] = lines[other], lines[one]
        elif kind == "repeat":
            lines.insert(one, lines[other])
        else:
            lines[one] = " " * draw(st.integers(0, 9)) + lines[one].lstrip()
        text = "\n".join(lines)
    return text


KEYS = ["do", "step", "value", "why", "a", "fits", "steps", "part", "shut_by", "is", "tool"]
values = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=6)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from(KEYS), inner),
    ),
    max_leaves=6,
)
FIELDS = ["assembly", "title", "prints", "sources", "defaults", "parts", "tools", "joints"]
FIELDS += ["checks", "sections", "steps", "together", "wear", "lines", "units", "trials"]
FIELDS += ["one_of", "states"]


STEP_FIELDS = ["do", "fits", "onto", "after", "before", "ways_in", "largest", "tighten", "torque"]
STEP_FIELDS += ["leaves", "secures", "check", "tools", "people", "time", "section", "note", "hold"]
STEP_FIELDS += ["takes_off", "loosens", "needs", "not_while", "unit"]
LINE_FIELDS = ["shaft", "bore", "ends", "order", "why"]
