// Tyre dimensions by size and rim, or as measured: generator/geometry/tyre.py, records/dimensions.py.
import { facts } from "./facts.js";

const roundHalfUp = (value) => Math.floor(value + 0.5 + facts.tyre.decimalSlack);

const rimDiameter = (code) =>
  code >= facts.tyre.millimetreRims ? code : facts.tables.rimDiameter[String(code)];

const onRim = (width, reference, rim) => width + facts.tyre.widthFactor * (rim - reference);

// Section width and diameter that a size alone gives on a rim of a width in mm; null where no
// published rule covers it. size: see tyre_size.js.
export const nominalTyre = (size, rim) => {
  const { tables, tyre } = facts;
  if (size.form === "metric" || size.form === "metric rim") {
    if (!size.width || !size.aspect) return null;
    const share = tables.theoreticalRim[String(size.aspect)];
    const diameter = rimDiameter(size.rim);
    if (share === undefined || diameter === undefined) return null;
    const height = roundHalfUp((size.width * size.aspect) / 100);
    return { section: onRim(size.width, share * size.width, rim), diameter: diameter + 2 * height };
  }
  const table = { "full profile": tables.fullProfile, flotation: tables.flotation }[size.form];
  const name = size.form === "flotation" ? size.designation : size.size;
  const known = table && Object.hasOwn(table, name) ? table[name] : null;
  if (!known) return null;
  const [rimCode, diameter] = known;
  const section = known[known.length - 1];
  return { section: onRim(section, rimCode * tyre.inch, rim), diameter };
};

// measured: {section, tread, diameter}, each {value, u} or null. Null where nothing is known.
export const tyreDimensions = (size, rim, measured) => {
  const nominal = nominalTyre(size, rim);
  const { sectionU, diameterU } = facts.tyre;
  const section =
    measured.section || (nominal && { value: nominal.section, u: sectionU, isNominal: true });
  const diameter =
    measured.diameter || (nominal && { value: nominal.diameter, u: diameterU, isNominal: true });
  if (!section || !diameter) return null;
  return { section, diameter, tread: measured.tread };
};

export const treadOf = (tyre) => (tyre.tread ? tyre.tread.value : facts.tyre.treadShare * tyre.section.value);
