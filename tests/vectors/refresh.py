"""Writes anew what the Python side gives for the cases of one vector file: `python tests/vectors/refresh.py report_view`.

For golden cases whose words were changed on purpose: read the difference before it is committed. Never for a case with a
published source, where the figure comes first and the code follows.
"""

import json
import sys
from importlib import import_module
from pathlib import Path

from barnlight.catalogue import load


def main(module: str) -> None:
    file = Path(__file__).parent / f"{module}.json"
    sets = json.loads(file.read_text("utf-8"))
    for one in sets:
        call = getattr(import_module(f"barnlight.domain.{module}"), one["function"].split(".")[1])
        for case in one["cases"]:
            if "out" in case:
                case["out"] = call(*(load() if value == {"$catalogue": True} else value for value in case["in"]))
    written = [
        f' {{"function": {json.dumps(one["function"])}, "version": {one["version"]}, "cases": [\n'
        + ",\n".join(f"  {json.dumps(case, ensure_ascii=False)}" for case in one["cases"])
        + "\n ]}"
        for one in sets
    ]
    file.write_text("[\n" + ",\n".join(written) + "\n]\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
