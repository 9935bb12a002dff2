// Asks the browser's modules every question of cases.json and tells the worst difference by kind.
const nextOf = (modules, name) => import(`./assets/${modules[name]}`);

export const compare = async () => {
  const { modules, facts, chassis, cases } = await (await fetch("cases.json")).json();
  const part = async (name) => nextOf(modules, `fit/${name}`);
  const { NotKnown, use } = await part("facts");
  use(facts);
  const [tyreSize, tyre, wheel, outline, tables, normal, travel, corner, motion, candidate, verdict, checks, remedies] =
    await Promise.all(
      ["tyre_size", "tyre", "wheel", "outline", "distribution", "normal", "travel", "corner", "motion",
        "candidate", "verdict", "checks", "remedies"].map(part),
    );
  const cars = Object.fromEntries(chassis.map((each) => [each.id, verdict.prepared(each)]));
  const orNull = (ask) => {
    try {
      return ask();
    } catch (trouble) {
      if (trouble instanceof NotKnown || trouble instanceof tyreSize.Misread) return [null];
      throw trouble;
    }
  };
  const inOrder = (spoils) => {
    const name = ({ label, side }) => `${label} ${side}`;
    return [...spoils].sort((a, b) => (name(a) < name(b) ? -1 : 1));
  };
  const size = (text) => tyreSize.readTyreSize(text);
  const asks = {
    tyreSize: ({ text }) => {
      const s = size(text);
      return [s.words, s.size, s.form, s.construction, s.rim, s.width, s.aspect, s.diameter];
    },
    nominal: ({ text, rim }) => {
      const known = tyre.nominalTyre(size(text), rim);
      return known ? [known.section, known.diameter] : [null];
    },
    wheel: ({ wheel: given, spacer, section }) => {
      const p = wheel.wheelPosition(given, spacer);
      const faces = wheel.tyreFaces(p, section);
      const told = [
        p.width, p.flangeInboard, p.flangeOutboard, p.offset, p.backspacing, p.frontSpacing,
        p.effectiveOffset, p.centrePlane, p.inboardLip, p.outboardLip, faces.inboard, faces.outboard,
      ];
      return [...told.flatMap(({ value, u }) => [value, u]), ...p.covariance.flat()];
    },
    section: ({ section: given, u, r }) => {
      const made = outline.sectionOutline({
        centre: given.centre, sectionWidth: given.section_width, treadWidth: given.tread_width,
        diameter: given.diameter, rimWidth: given.rim_width, seat: given.bead_seat_diameter,
        flangeInboard: given.flange_inboard, flangeOutboard: given.flange_outboard,
      });
      const g = outline.gradient(made, u, r);
      return [
        g.gap, g.centre, g.sectionWidth, g.treadWidth, g.diameter, g.rimWidth, g.flangeInboard,
        g.flangeOutboard,
      ];
    },
    range: ({ table, u }) => {
      const found = tables.range(tables.unpacked(table), u);
      return [found.low, found.median, found.high];
    },
    above: ({ table, x, u }) => [tables.probabilityAbove(tables.unpacked(table), x, u)],
    joint: ({ demands, shared }) => {
      const asked = demands.map((each) => ({ ...each, table: tables.unpacked(each.table) }));
      const found = tables.jointClearance(asked, shared);
      return [found.probability, found.least, found.most];
    },
    normal: ({ z }) => [normal.cdf(z)],
    positions: ({ reach, width, near }) => [
      ...travel.swept(reach).flat(),
      ...travel.refined(reach, near, width).flat(),
    ],
    motion: ({ chassis: id, axle, side, fitted, positions }) => {
      const found = corner.cornerMotion(cars[id][axle], fitted, side);
      return ["body", "arm", "strut", "hub"].flatMap((view) => [
        ...motion.poses(found.corner, positions, view),
      ]);
    },
    checks: ({ car, front, rear }) => {
      const order = (each) => [each.code, each.end ?? "", each.side, each.outcome].join(" ");
      const on = { front, rear };
      // Whether both sides are told as one is the page's own; what is said of each is compared.
      const apart = (each) => {
        const isOne = each.side !== "both" || !each.end || !(on[each.end].left || on[each.end].right);
        return isOne ? [each] : [{ ...each, side: "left" }, { ...each, side: "right" }];
      };
      const rows = checks.checksOf(car, on).flatMap(apart).map((each) => [order(each), each]);
      const least = ({ value }) => value ?? -1e9;
      rows.sort(([a, one], [b, other]) => (a < b ? -1 : a > b ? 1 : least(one) - least(other)));
      return rows.flatMap(([, s]) => [s.code, s.end, s.side, s.outcome, s.value, s.u, s.bound]);
    },
    changed: ({ fitted, change }) => [candidate.changed(fitted, change).tyre.size],
    end: ({ chassis: id, axle, fitted, change }) => {
      const on = change ? candidate.changed(fitted, change) : fitted;
      const end = verdict.endVerdict(cars[id], axle, on);
      const { joint } = end;
      const told = [end.word, ...(joint ? [joint.probability, joint.least, joint.most] : [])];
      const key = (each) => `${each.site.name} ${each.side}`;
      end.sites.sort((a, b) =>
        a.site.name === b.site.name ? (a.side < b.side ? -1 : 1) : a.site.name < b.site.name ? -1 : 1,
      );
      for (const s of end.sites) {
        told.push(s.site.name, s.side, s.condition, s.word);
        if (!s.least) told.push(null);
        else {
          told.push(s.least.gap, s.least.u, s.least.rate, s.chance, s.free);
          told.push(s.range.low, s.range.median, s.range.high);
        }
      }
      return told;
    },
    remedies: ({ chassis: id, axle, on, name }) => {
      const before = verdict.endVerdict(cars[id], axle, on[axle]);
      const found = [...remedies.remediesFor(cars[id], axle, on, before, name)].filter(Boolean);
      const own = before.sites.filter((each) => each.site.name === name).map(({ chance }) => chance);
      const told = remedies.failing(before).flatMap((each) => [each.name, each.word]);
      told.push(Math.min(...own));
      for (const each of remedies.ranked(found)) {
        told.push(each.word, each.chance);
        for (const step of each.steps) told.push(step.kind, step.words, step.costs);
        told.push("mends", ...each.mends, "spoils");
        for (const lost of inOrder(each.spoils)) told.push(lost.label, lost.side, lost.before, lost.after);
        told.push("checks", ...each.checks.map((one) => [one.code, one.end, one.outcome].join(" ")).sort());
      }
      return told;
    },
  };
  const worst = {};
  const wrong = [];
  const note = (kind, at, words) => {
    if (wrong.length < 40) wrong.push(`${kind} ${at}: ${words}`);
  };
  cases.forEach(({ kind, given, answer }, at) => {
    const found = orNull(() => asks[kind](given));
    worst[kind] ??= { count: 0, off: 0 };
    worst[kind].count += 1;
    if (found.length !== answer.length) {
      note(kind, at, `${found.length} answers for ${answer.length}: ${found.slice(0, 3)}`);
      return;
    }
    found.forEach((value, place) => {
      const wanted = answer[place];
      if (typeof wanted !== "number") {
        if ((value ?? null) !== wanted) note(kind, at, `${place}: ${value}, not ${wanted}`);
        return;
      }
      const off = Math.abs(value - wanted);
      if (!(off <= worst[kind].off)) worst[kind].off = off;
      if (!(off <= 1e-6)) note(kind, at, `${place}: ${value} for ${wanted}, off by ${off}`);
    });
  });
  return { worst, wrong };
};
