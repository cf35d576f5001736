"""Writes tests/layouts/solids.json: solids built and cut in a geometry kernel, and measured there.

Nothing here comes from the program under test. Each case is a request of the JSON door and what the
kernel measured, under the door's keys; `cuts` holds the settings of the parts' ends with their sides.
"""

import json
import pathlib
import sys
from importlib.metadata import version

sys.dont_write_bytecode = True

import boxes
import crossed
import splay


def rounded(v):
    if isinstance(v, float):
        return round(v, 10) + 0.0
    if isinstance(v, dict):
        return {k: rounded(x) for k, x in v.items()}
    if isinstance(v, list):
        return [rounded(x) for x in v]
    return v


def main():
    cases = splay.legs() + splay.stretchers() + boxes.regular() + boxes.two_slopes() + crossed.pairs()
    made_with = {n: version(n) for n in ("cadquery-ocp-novtk",)}
    lines = [json.dumps(rounded(c)) for c in cases]
    text = '{"made_with": %s, "cases": [\n%s\n]}\n' % (json.dumps(made_with), ",\n".join(lines))
    here = pathlib.Path(__file__).resolve().parent
    (here.parent.parent / "layouts" / "solids.json").write_text(text)


main()
