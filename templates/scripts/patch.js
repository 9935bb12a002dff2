// Makes what stands in a box like what was made anew, and touches only the nodes that differ, so that
// little has to be laid out and painted again. What has listeners of its own is not for this.
const alike = (now, then) => {
  if (now.nodeType !== then.nodeType || now.nodeName !== then.nodeName) {
    now.replaceWith(then);
    return;
  }
  if (now.nodeType === Node.TEXT_NODE) {
    if (now.data !== then.data) now.data = then.data;
    return;
  }
  for (const { name, value } of then.attributes) {
    if (now.getAttribute(name) !== value) now.setAttribute(name, value);
  }
  for (const { name } of [...now.attributes]) if (!then.hasAttribute(name)) now.removeAttribute(name);
  patch(now, [...then.childNodes]);
};

export const patch = (box, parts) => {
  while (box.childNodes.length > parts.length) box.lastChild.remove();
  parts.forEach((part, at) => {
    const now = box.childNodes[at];
    if (now) alike(now, part);
    else box.append(part);
  });
};
