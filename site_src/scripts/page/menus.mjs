/** Menus that fold out of a button: one at a time; a click elsewhere and Escape close them. */

/** @returns {HTMLDetailsElement[]} those that are open */
const open = () => [...document.querySelectorAll("details")].filter((each) => each.matches(".menu[open]"));

export function watchMenus() {
  document.addEventListener("click", ({ target }) => {
    for (const menu of open()) if (!(target instanceof Node && menu.contains(target))) menu.open = false;
  });
  addEventListener("keydown", ({ key }) => {
    if (key !== "Escape") return;
    for (const menu of open()) {
      menu.open = false;
      menu.querySelector("summary")?.focus();
    }
  });
}
