// Drafts on this device, several of them. A device that keeps nothing, or has no room, is told of,
// and the form works on; a draft can always be taken away as a file.
const KEY = "gapbook:drafts:1";
const MOST = 30;

const stored = () => {
  const found = JSON.parse(localStorage.getItem(KEY) ?? "[]");
  return Array.isArray(found) ? found.filter((each) => each && typeof each.id === "string") : [];
};

export class Drafts {
  constructor() {
    this.trouble = "";
    this.all = [];
    try {
      this.all = stored();
      localStorage.setItem(`${KEY}:try`, "1");
      localStorage.removeItem(`${KEY}:try`);
    } catch {
      this.trouble = "This device keeps no drafts for this site. Save the draft as a file before you leave.";
    }
  }
  find(id) {
    return this.all.find((each) => each.id === id);
  }
  keep(draft) {
    // Another tab may have kept drafts of its own since.
    try {
      const others = stored().filter((each) => each.id !== draft.id);
      this.all = [draft, ...others].slice(0, MOST);
    } catch {
      this.all = [draft, ...this.all.filter((each) => each.id !== draft.id)].slice(0, MOST);
    }
    return this.write();
  }
  remove(id) {
    this.all = this.all.filter((each) => each.id !== id);
    return this.write();
  }
  write() {
    try {
      localStorage.setItem(KEY, JSON.stringify(this.all));
      this.trouble = "";
      return true;
    } catch (error) {
      const isFull = error?.name === "QuotaExceededError";
      this.trouble = isFull
        ? "This device has no room for another draft. Save it as a file, or delete an older draft."
        : "This device keeps no drafts for this site. Save the draft as a file before you leave.";
      return false;
    }
  }
}

export const newId = () => `${Date.now().toString(36)}-${Math.floor(Math.random() * 1e9).toString(36)}`;
