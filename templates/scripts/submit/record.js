// A record as it is typed: groups, lists and texts. What is empty is not part of the file.
export const keyed = (route) => JSON.stringify(route);

export const at = (record, route) =>
  route.reduce((value, step) => (value === undefined || typeof value === "string" ? undefined : value[step]), record);

// Puts a value at a route, and makes the groups and lists on the way.
export const put = (record, route, value) => {
  let here = record;
  for (const [place, step] of route.slice(0, -1).entries()) {
    const next = here[step];
    if (next === undefined || typeof next === "string") here[step] = typeof route[place + 1] === "number" ? [] : {};
    here = here[step];
  }
  here[route.at(-1)] = value;
};

export const drop = (record, route) => {
  const owner = at(record, route.slice(0, -1));
  if (Array.isArray(owner)) owner.splice(route.at(-1), 1);
  else if (owner) delete owner[route.at(-1)];
};

// Gives what was filled in, in the order of the fields; lists keep their empty items out, and
// `places` gets the places that the items kept have in the form.
export const filled = (models, name, value, places = new Map(), from = [], to = []) => {
  const made = {};
  const model = models[name];
  const known = new Set(model.fields.map((field) => field.name));
  for (const field of [...model.fields, ...Object.keys(value).filter((key) => !known.has(key)).map((key) => ({ name: key }))]) {
    const there = value[field.name];
    const [a, b] = [[...from, field.name], [...to, field.name]];
    if (typeof there === "string") {
      if (there.trim() !== "") made[field.name] = there;
    } else if (Array.isArray(there)) {
      const items = [];
      for (const [place, item] of there.entries()) {
        const kept = typeof item === "string" ? (item.trim() ? item : null) : filledGroup(models, field.inner, item, places, [...a, place], [...b, items.length]);
        if (kept === null) continue;
        places.set(keyed([...b, items.length]), [...a, place]);
        items.push(kept);
      }
      if (items.length) made[field.name] = items;
    } else if (there && field.inner) {
      const group = filledGroup(models, field.inner, there, places, a, b);
      if (group) made[field.name] = group;
    }
  }
  return made;
};

const filledGroup = (models, name, value, places, from, to) => {
  if (!name || value === null || typeof value !== "object") return null;
  const made = filled(models, name, value, places, from, to);
  return Object.keys(made).length ? made : null;
};

// A group that is not begun lacks all that it cannot do without: gives the route and the words of each.
export const needed = (models, group, route) =>
  models[group].fields
    .filter((field) => field.isRequired)
    .flatMap((field) => {
      const there = [...route, field.name];
      return field.inner && !field.isList ? needed(models, field.inner, there) : [{ route: there, expected: field.declared.help }];
    });

// Leads from a route of the file to the one of the form.
export const inForm = (places, route) => {
  for (let end = route.length; end > 0; end -= 1) {
    const found = places.get(keyed(route.slice(0, end)));
    if (found) return [...found, ...route.slice(end)];
  }
  return route;
};

// Takes only what has the shape of a record out of something from elsewhere: a draft that was
// imported, or one that another edition of the form kept.
const MOST = 300;
export const shaped = (models, name, value) => {
  const made = {};
  if (value === null || typeof value !== "object" || Array.isArray(value)) return made;
  for (const field of models[name].fields) {
    const there = Object.hasOwn(value, field.name) ? value[field.name] : undefined;
    const one = (item) => (field.inner ? shaped(models, field.inner, item) : typeof item === "string" ? item.slice(0, 6000) : undefined);
    if (there === undefined || there === null) continue;
    if (field.isList && Array.isArray(there)) made[field.name] = there.slice(0, MOST).map(one).filter((item) => item !== undefined);
    else if (!field.isList && one(there) !== undefined) made[field.name] = one(there);
  }
  return made;
};
