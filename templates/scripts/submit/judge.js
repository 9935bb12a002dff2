// Reads a record as `gapbook check` does and applies the rules that need nothing but the record
// and its chassis sheet. Codes, words and places are those of the command: both come from one text.
import { library } from "./python.js";
import { PyDict } from "./values.js";

class BaseModel {}

const tablesOf = (tables) => {
  const row = ({ title, rows }) =>
    new PyDict([["title", title], ["rows", new PyDict(rows.map(([key, value]) => [key, value]))]]);
  const entries = Object.entries(tables).map(([source, named]) => [
    source,
    new PyDict(Object.entries(named).map(([name, table]) => [name, row(table)])),
  ]);
  return new Map(entries);
};

// Makes a class of each model of records, as the rules ask for it.
const modelsOf = (definitions) => {
  const models = new Map();
  const model = (name) => {
    if (models.has(name)) return models.get(name);
    const made = function () {
      throw new TypeError("models are read, not made");
    };
    made.prototype = Object.create(BaseModel.prototype, { constructor: { value: made } });
    made.title = name;
    models.set(name, made);
    made.list = definitions[name].fields;
    made.compared = made.list.map((field) => field.name);
    made.model_fields = new PyDict(
      made.list.map((field) => [field.name, { ...field, is_required: () => field.isRequired, get model() {
        return field.inner ? model(field.inner) : null;
      } }]),
    );
    return made;
  };
  return model;
};

const GONE = Symbol("gone");
const keyed = (route) => JSON.stringify(route);

// The places of one file. Items of lists that were left out still count in the places told.
class Source {
  constructor(root, program) {
    this.root = root;
    this.program = program;
  }
  node(route) {
    let node = this.root;
    for (const step of route) {
      if (node?.entries && typeof step === "string") node = node.entries.get(step);
      else if (node?.items && typeof step === "number") node = node.items[step] ?? null;
      else return null;
    }
    return node;
  }
  written(route) {
    let node = this.root;
    return route.map((step) => {
      const origin = node?.origin?.[step] ?? step;
      node = node?.entries ? node.entries.get(step) : (node?.items?.[step] ?? null);
      return origin;
    });
  }
  place(route, start = null, end = null) {
    return { route: this.written(route), start, end, isKey: false };
  }
  key_place(route) {
    return { route: this.written(route), start: null, end: null, isKey: true };
  }
}

export class Judge {
  constructor({ tables, letters, made }, definitions) {
    const known = tablesOf(tables);
    this.model = modelsOf(definitions);
    this.program = made({
      ...library,
      unicodedata: { ...library.unicodedata, name: (sign) => letters[sign] ?? "" },
      BaseModel,
      model: this.model,
      document: (source) => known.get(source),
      rows: (source, table) => known.get(source).item(table).item("rows"),
      declared: (info) => info.declared,
      inner_model: (info) => info.model,
    });
    this.readers = new Map();
  }

  reader(field) {
    const key = `${field.reader} ${field.words}`;
    if (!this.readers.has(key)) this.readers.set(key, this.makeReader(field));
    return this.readers.get(key);
  }

  makeReader({ reader, words }) {
    const { program } = this;
    const read = program[reader.split(".").at(-1)];
    if (read === program.choice) return read(program[words]);
    if (read !== program.read_quantity) return read;
    return (text) => read(text, program.Dimension[words]);
  }

  // Reads one text as a field would be read: its value, or what is wrong with it.
  readText(field, text) {
    try {
      return { value: this.reader(field)(text) };
    } catch (error) {
      if (!(error instanceof this.program.Misread)) throw error;
      return { misread: error };
    }
  }

  node(plain) {
    const { program } = this;
    if (typeof plain === "string") return program.Scalar(plain, null, 0, true);
    if (Array.isArray(plain)) return program.Sequence(plain.map((each) => this.node(each)), null);
    const entries = Object.entries(plain).map(([name, value]) => [name, this.node(value)]);
    return program.Mapping(new PyDict(entries), new PyDict(), null);
  }

  // Takes nodes as a model; what is at the routes in `gone` is not there.
  validate(name, root, gone, isRelaxed = false) {
    const errors = [];
    const fail = (type, loc, error) => {
      errors.push({ type, loc, error });
      return GONE;
    };
    const group = (model, node, route) => {
      if (!node.entries) return fail("model_type", route);
      const value = Object.create(model.prototype);
      for (const field of model.list) {
        const there = [...route, field.name];
        const child = gone.has(keyed(there)) ? null : node.entries.get(field.name);
        value[field.name] = child ? entry(field, child, there) : field.isList && !field.isMaybe ? [] : null;
        if (!child && field.isRequired && !isRelaxed) fail("missing", there);
      }
      for (const name of node.entries) {
        const there = [...route, name];
        if (!model.model_fields.contains(name) && !gone.has(keyed(there))) fail("extra_forbidden", there);
      }
      return value;
    };
    const entry = (field, node, route) => {
      if (!field.isList) return one(field, node, route);
      if (!node.items) return fail("tuple_type", route);
      return node.items.flatMap((item, at) =>
        gone.has(keyed([...route, at])) ? [] : [one(field, item, [...route, at])],
      );
    };
    const one = (field, node, route) => {
      if (field.inner) return group(this.model(field.inner), node, route);
      if (typeof node.text !== "string") {
        const told = "a group or list stands where one value belongs";
        return fail("value_error", route, this.program.Misread("F05", told, 0, 0, "a value"));
      }
      const { value, misread } = this.readText(field, node.text);
      return misread ? fail("value_error", route, misread) : value;
    };
    return { value: group(this.model(name), root, []), errors };
  }

  // Reads without what has faults, as the command does, so that the rules can judge the rest.
  without(name, root, routes, isRelaxed) {
    const gone = new Set(routes.map(keyed));
    for (let tries = 0; tries < 24; tries += 1) {
      if (gone.has("[]")) return null;
      const { value, errors } = this.validate(name, root, gone, isRelaxed);
      if (!errors.length) return { value, root: this.shortened(root, gone, []) };
      for (const { type, loc } of errors) gone.add(keyed(type === "missing" ? loc.slice(0, -1) : loc));
    }
    return null;
  }

  shortened(node, gone, route) {
    const { program } = this;
    if (node.items) {
      const kept = [...node.items.keys()].filter((at) => !gone.has(keyed([...route, at])));
      const made = program.Sequence(
        kept.map((at) => this.shortened(node.items[at], gone, [...route, at])),
        null,
      );
      made.origin = kept;
      return made;
    }
    if (!node.entries) return node;
    const entries = node.entries
      .pairs()
      .map(([name, value]) => [name, this.shortened(value, gone, [...route, name])]);
    return program.Mapping(new PyDict(entries), new PyDict(), null);
  }

  // Gives the model of a file, or what could be saved of it, with the faults of its fields.
  read(name, plain) {
    const { program } = this;
    const root = this.node(plain);
    const source = new Source(root, program);
    const { value, errors } = this.validate(name, root, new Set());
    if (!errors.length) {
      const faults = [...program._remarks(value, source, [])];
      return { value, source, faults, isWhole: !program.has_error(faults) };
    }
    const faults = errors.map(({ type, loc, error }) => {
      const told = new PyDict(error ? [["error", error]] : []);
      const problem = new PyDict([["type", type], ["ctx", told]]);
      return program._fault(this.model(name), source, loc, problem);
    });
    const routes = errors.map(({ loc }) => loc);
    const judged = this.without(name, root, routes, true);
    if (judged) faults.push(...program._remarks(judged.value, new Source(judged.root, program), []));
    const left = this.without(name, root, routes, false);
    return {
      value: left?.value ?? null,
      source: left ? new Source(left.root, program) : source,
      faults,
      isWhole: false,
    };
  }

  chassis(id, plain) {
    const { value, source, isWhole } = this.read("Chassis", plain);
    return value === null ? null : this.program.Filed(id, value, source, isWhole);
  }

  // Gives all faults of a record, those of its fields and those of the live rules, and its model as
  // far as it can be read.
  judged(plain, chassis) {
    const { program } = this;
    const { value, source, faults, isWhole } = this.read("Setup", plain);
    const found = [...faults];
    if (value !== null) {
      const filed = program.Filed("this record", value, source, isWhole);
      const sheet = chassis && chassis.id === value.chassis ? chassis : null;
      const fitting = program.Case(filed, sheet);
      for (const { check } of program.rules) found.push(...check(fitting));
    }
    const told = found.map(tell);
    const seen = new Set();
    const kept = told.filter((fault) => {
      const key = JSON.stringify(fault);
      return seen.has(key) ? false : seen.add(key);
    });
    return { faults: kept, value };
  }

  faults(plain, chassis) {
    return this.judged(plain, chassis).faults;
  }

  yaml(plain) {
    const grouped = (value) => {
      if (typeof value === "string") return value;
      if (Array.isArray(value)) return value.map(grouped);
      return new PyDict(Object.entries(value).map(([name, inner]) => [name, grouped(inner)]));
    };
    return this.program.to_yaml(grouped(plain));
  }
}

const tell = ({ code, severity, headline, place, expected, why, fix, also }) => ({
  code,
  severity: severity.value,
  headline,
  expected,
  why,
  fix,
  ...place,
  also: also.map(({ place: other, label }) => ({ route: other.route, label })),
});
