// The rules speak as soon as one end of the car is filled in: what a record cannot do without and
// does not have yet is stood in for, and what is said of the stand-ins is not told.
const ENDS = ["front", "rear"];

const standIn = (models, plain) => {
  const made = { ...plain };
  const stood = new Set();
  const day = new Date().toISOString().slice(0, 10);
  for (const field of models.Setup.fields) {
    if (!field.isRequired || field.name in made || ENDS.includes(field.name)) continue;
    stood.add(field.name);
    if (field.inner) {
      const inner = models[field.inner].fields.filter((each) => each.isRequired);
      made[field.name] = Object.fromEntries(inner.map((each) => [each.name, each.declared.example]));
    } else {
      made[field.name] = field.name === "date" ? day : field.declared.example;
    }
  }
  const isReady = (end) => made[end]?.wheel?.size && made[end]?.tyre?.size;
  for (const [end, other] of [ENDS, [...ENDS].reverse()]) {
    if (isReady(end) || !isReady(other)) continue;
    stood.add(end);
    made[end] = made[other];
  }
  return { made, stood };
};

export const earlier = (judge, models, plain, sheet) => {
  const whole = judge.judged(plain, sheet);
  if (whole.value) return whole;
  const { made, stood } = standIn(models, plain);
  const { faults, value } = judge.judged(made, sheet);
  const told = new Set(whole.faults.map((fault) => `${fault.code} ${JSON.stringify(fault.route)}`));
  const more = faults.filter(
    ({ code, route, also }) =>
      !told.has(`${code} ${JSON.stringify(route)}`) && !stood.has(route[0]) && !also.some((mark) => stood.has(mark.route[0])),
  );
  const shown = value ? { ...value, ...Object.fromEntries(ENDS.filter((end) => stood.has(end)).map((end) => [end, null])) } : null;
  return { faults: [...whole.faults, ...more], value: shown };
};
