"""Drawings, charts and prose for templates, which ask for them by name.

`drawing(name, subject)` asks the module `diagrams/<name>.py` for its scene and lays it into
`templates/diagrams/<name>.svg`. `chart(subject)` has it drawn by charts.py. Both are names that
every template knows, so that views need to know nothing of drawing.
"""

from functools import cache, partial
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, Protocol, TypeAlias

from generator.cache.digests import digest
from generator.cache.once import kept
from generator.cache.program import program
from generator.frozen import dataclass
from generator.rendering import diagrams, prose
from generator.rendering.environment import finished
from generator.rendering.shortened import shortened
from generator.site.drawings import (
    CurvesSubject,
    ExampleSubject,
    LimitChart,
    PlanSubject,
    SectionSubject,
    SignsSubject,
    TyreChart,
    WindowSubject,
)
from generator.site.facts import Fact

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup


Subject: TypeAlias = (
    SectionSubject | PlanSubject | CurvesSubject | WindowSubject | SignsSubject | ExampleSubject
)


@dataclass(frozen=True)
class Made:
    """A finished drawing: SVG, the words below it, and its numbers."""

    id: str
    svg: "Markup"
    caption: str
    numbers: tuple[Fact, ...]


class _Scene(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def caption(self) -> str: ...
    @property
    def numbers(self) -> tuple[Fact, ...]: ...


def give_figures(environment: "Environment") -> None:
    """Let the templates of an environment ask for drawings and charts."""
    environment.globals["drawing"] = partial(draw, environment)
    environment.globals["chart"] = partial(
        chart, inch_first=bool(environment.globals["inch_first"])
    )


def draw(environment: "Environment", name: str, subject: Subject) -> Made:
    """Make the drawing of a kind; `name` is written in our own templates only."""
    module = import_module(f"generator.rendering.diagrams.{name}")
    scene: _Scene = module.scene(subject)
    svg = environment.get_template(f"diagrams/{name}.svg").render(d=scene)
    return Made(scene.id, finished(shortened(svg)), scene.caption, scene.numbers)


@cache
def explaining() -> tuple[str, ...]:
    """Give the names of the drawings that need no car, as articles write them."""
    found = [import_module(f"{diagrams.__name__}.{each.name}") for each in
             iter_modules(diagrams.__path__)]  # fmt: skip
    return tuple(
        module.__name__.rsplit(".", 1)[1].replace("_", "-")
        for module in found
        if getattr(module, "EXPLAINS", False)
    )


def chart(subject: TyreChart | LimitChart, *, inch_first: bool) -> "Markup":
    """Make a chart, or give it as it was drawn of the same numbers: drawing takes long to begin."""
    name = digest("chart", program(), type(subject).__name__, repr((subject, inch_first)))
    return finished(kept(name, partial(_charted, subject, inch_first)))


def _charted(subject: TyreChart | LimitChart, inch_first: bool) -> str:
    from generator.rendering.charts import limits_of_sites, measured_against_label

    if isinstance(subject, LimitChart):
        return limits_of_sites(subject, inch_first=inch_first)
    return measured_against_label(subject, inch_first=inch_first)


def give_prose(environment: "Environment") -> None:
    """Let the templates of an environment show members' Markdown: `text|note`, `article(text)`."""
    environment.filters["note"] = prose.note
    environment.globals["article"] = partial(_article, environment)


def _article(environment: "Environment", text: str) -> prose.Prose:
    """Render an article; the drawings it may ask for are those that need no car.

    Such a drawing's module says `EXPLAINS = True`; an article writes its name with hyphens.
    """

    def drawn(name: str) -> "Markup":
        if name not in explaining():
            raise KeyError(name)
        subject = SignsSubject(name) if name == "signs" else ExampleSubject(name)
        made = draw(environment, name.replace("-", "_"), subject)
        module = environment.get_template("components/plate/plate.html").module
        return finished(str(module.plate(made)))  # type: ignore[attr-defined]

    return prose.article(text, drawn)
