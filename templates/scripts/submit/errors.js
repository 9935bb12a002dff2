// The errors that the rules throw and catch; they are made without the word `new`.
class PythonError extends Error {}
class Value extends PythonError {}
class Lookup extends PythonError {}

const callable = (kind) =>
  new Proxy(kind, { apply: (target, self, values) => Reflect.construct(target, values) });

export const ValueError = callable(Value);
export const LookupError = callable(Lookup);
