"""Drawings and charts for templates: from a subject of generator/site/drawings.py to finished SVG.

`drawing(name, subject)` asks the module `diagrams/<name>.py` for its scene and lays it into
`templates/diagrams/<name>.svg`. `chart(subject)` has it drawn by charts.py. Both are names that
every template knows, so that views need to know nothing of drawing.
"""

from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Protocol

from generator.rendering.environment import finished
from generator.site.drawings import OffsetChart, SectionSubject, SignsSubject
from generator.site.facts import Fact

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup


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
    environment.globals["chart"] = chart


def draw(environment: "Environment", name: str, subject: SectionSubject | SignsSubject) -> Made:
    """Make the drawing of a kind; `name` is written in our own templates only."""
    module = import_module(f"generator.rendering.diagrams.{name}")
    scene: _Scene = module.scene(subject)
    svg = environment.get_template(f"diagrams/{name}.svg").render(d=scene)
    return Made(scene.id, finished(svg), scene.caption, scene.numbers)


def chart(subject: OffsetChart) -> "Markup":
    """Make a chart."""
    from generator.rendering.charts import width_against_offset

    return finished(width_against_offset(subject))
