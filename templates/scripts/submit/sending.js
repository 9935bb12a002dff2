// The ways out: copy, save, and the forge's page for a new file.
import { make } from "../numbers.js";

// A link to bytes in memory is followed as a download; the page itself loads nothing from it.
export const save = (name, blob) => {
  const link = make("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
};

export const copy = async (field) => {
  try {
    await navigator.clipboard.writeText(field.value);
    return true;
  } catch {
    field.focus();
    field.select();
    return false;
  }
};

// Gives the address of the new file at the forge with its text, or without where it is too long.
export const forgeAddress = ({ forge, askedName, askedText, longest }, path, text) => {
  const bare = new URL(forge);
  bare.searchParams.set(askedName, path);
  const whole = new URL(bare);
  whole.searchParams.set(askedText, text);
  const isWhole = whole.href.length <= Number(longest);
  return { href: (isWhole ? whole : bare).href, isWhole, length: whole.href.length };
};
