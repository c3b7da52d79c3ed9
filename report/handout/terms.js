// A term's explanation, where the term is: without this, its link leads to the list.
(() => {
  const card = document.createElement("div");
  if (!card.showPopover) return;
  card.id = "explained";
  card.popover = "auto";
  card.tabIndex = -1;
  card.setAttribute("role", "dialog");
  document.querySelector("main").append(card);
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a.term");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const term = document.getElementById(link.hash.slice(1));
    event.preventDefault();
    const add = (name, text) => {
      const e = document.createElement(name);
      e.textContent = text;
      return e;
    };
    const close = add("button", "Close");
    close.addEventListener("click", () => card.hidePopover());
    card.replaceChildren(add("strong", term.textContent), add("p", term.nextElementSibling.textContent), close);
    card.setAttribute("aria-label", term.textContent);
    card.showPopover({ source: link });
    card.focus();
  });
})();
