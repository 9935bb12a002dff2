"""Run on its own: the rates of the guide's steps on a content folder, written as JSON."""

import json
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from time import process_time
from typing import Any

from generator.assessment.assess import assess
from generator.computing import guide_of
from generator.evidence.club import learn_library
from generator.reading.folder import content_files
from generator.records.checking import check
from generator.records.collect import collect
from generator.rendering import charts
from generator.rendering.render import Renderer
from generator.site.plan import plan

TODAY = date(2026, 1, 1)


def _timed(act: Callable[[], Any]) -> tuple[Any, float]:
    begin = process_time()
    made = act()
    return made, max(process_time() - begin, 1e-9)


def rates(content: Path) -> dict[str, float]:
    """Take each step once, by processor time."""
    files, _ = content_files(content)
    collected, reading = _timed(lambda: collect(files))
    library = collected.library
    _, checking = _timed(lambda: check(library, today=TODAY))
    cases = [case for case in library.cases() if case.chassis]
    first, starting = _timed(lambda: assess(cases[0]))
    rest, assessing = _timed(lambda: [assess(case) for case in cases[1:]])
    assessments = dict(zip((case.setup.id for case in cases), [first, *rest], strict=True))
    gaps = sum(len(c.states) + 1 for each in rest for end in each.axles() for c in end.clearances)
    evidence, learning = _timed(lambda: learn_library(library, assessments))
    limits = sum(len(each.limits) for each in evidence.values())
    guide = guide_of(collected, ())
    pages, planning = _timed(lambda: plan(guide))
    spent = {"charts": 0.0, "drawn": 0.0}
    for name in ("limits_of_sites", "measured_against_label"):
        setattr(charts, name, _counted(getattr(charts, name), spent))
    renderer, _ = _timed(lambda: Renderer(guide))
    _, rendering = _timed(lambda: [renderer.text(page) for page in pages])
    return {
        "records": float(len(cases)),
        "first assessment, s": starting,
        "records read per second": len(cases) / reading,
        "records checked per second": len(cases) / checking,
        "setups assessed per second": len(rest) / assessing if rest else 0.0,
        "gaps per second": gaps / assessing if rest else 0.0,
        "limits learned per second": limits / learning,
        "pages planned per second": len(pages) / planning,
        "pages rendered per second": len(pages) / max(rendering - spent["charts"], 1e-9),
        "charts per second": spent["drawn"] / spent["charts"] if spent["drawn"] else 0.0,
    }


def _counted(draw: Callable[..., str], spent: dict[str, float]) -> Callable[..., str]:
    def drawn(*arguments: Any, **named: Any) -> str:
        text, seconds = _timed(lambda: draw(*arguments, **named))
        spent["charts"] += seconds
        spent["drawn"] += 1.0
        return str(text)

    return drawn


if __name__ == "__main__":
    print(json.dumps(rates(Path(sys.argv[1]))))
