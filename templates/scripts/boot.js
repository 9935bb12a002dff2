// Starts the script of each component that asks for one: <section data-module="find.ab12.js">.
// A page is whole without this file; a module that cannot be loaded leaves its element as it was.
const base = document.baseURI;

for (const element of document.querySelectorAll("[data-module]")) {
  const address = new URL(element.dataset.module, base);
  if (address.origin === location.origin) {
    import(address.href).then(
      (module) => module.start(element),
      () => element.setAttribute("data-module-missing", ""),
    );
  }
}
