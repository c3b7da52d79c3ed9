// Making and finding elements.

type Child = Node | string | null | undefined | false;
type Properties = Record<string, string | number | boolean | undefined | ((event: never) => void)>;

function fill(element: Element, properties: Properties, children: Child[]): void {
  for (const [name, value] of Object.entries(properties)) {
    if (typeof value === "function") element.addEventListener(name, value as EventListener);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== undefined) element.setAttribute(name, String(value));
  }
  for (const child of children) if (child) element.append(child);
}

/** An element with attributes, listeners (by the event's name) and children. */
export function h<K extends keyof HTMLElementTagNameMap>(tag: K, properties: Properties = {}, ...children: Child[]): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  fill(element, properties, children);
  return element;
}

/** An element of SVG. */
export function svg(tag: string, properties: Properties = {}, ...children: Child[]): SVGElement {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  fill(element, properties, children);
  return element;
}

/** The element with an id, which must exist. */
export function byID<T extends HTMLElement = HTMLElement>(id: string): T {
  const element = document.getElementById(id);
  if (!element) throw new Error(`there is no element ${id}`);
  return element as T;
}

/** Writes a text only if it changed, since writing costs layout. */
export function write(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

/** Offers content to save as a file. */
export function save(content: Blob, name: string): void {
  const address = URL.createObjectURL(content);
  h("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A label within a sentence: only abbreviations keep their capitals. */
export function uncapital(label: string): string {
  return label.replace(/^[A-Z](?=[a-z])/, (letter) => letter.toLowerCase());
}

/** Texts as a list. */
export function list(texts: string[]): HTMLUListElement {
  return h("ul", {}, ...texts.map((text) => h("li", {}, text)));
}
