import { type XmlElement, xmlAttribute } from "./read-xml.ts";

/** A part of a machine that logs. */
export interface DeviceElement {
  readonly name: string;
  /** The part it belongs to; undefined for the machine itself. */
  readonly parent: string | undefined;
}

/** Device elements by their reference; an element names its parent by object number, which holds inside its device. */
export function deviceElements(devices: readonly XmlElement[]): Map<string, DeviceElement> {
  const found = new Map<string, DeviceElement>();
  for (const device of devices) {
    const elements = device.children.filter((child) => child.name === "DET");
    const byObject = new Map(elements.map((one) => [xmlAttribute(one, "B"), xmlAttribute(one, "A")]));
    for (const one of elements)
      found.set(xmlAttribute(one, "A"), {
        name: xmlAttribute(one, "D"),
        parent: byObject.get(xmlAttribute(one, "F")),
      });
  }
  return found;
}

/**
 * What an element of a task lays: the product allocated to it, or to what it is part of; of a task with one product that
 * one. Several elements without a product go by their own names, a single one by none.
 */
export function productOfElement(
  task: XmlElement,
  products: ReadonlyMap<string, string>,
  devices: ReadonlyMap<string, DeviceElement>,
): (element: string, elements: readonly string[]) => string {
  const allocated = new Map<string, string>();
  const named = new Set<string>();
  const take = (product: string, element: string): void => {
    if (product === "") return;
    named.add(product);
    if (element !== "" && !allocated.has(element)) allocated.set(element, product);
  };
  for (const child of task.children) {
    if (child.name === "PAN") take(xmlAttribute(child, "A"), xmlAttribute(child, "E"));
    if (child.name !== "TZN") continue;
    for (const value of child.children)
      if (value.name === "PDV") take(xmlAttribute(value, "C"), xmlAttribute(value, "D"));
  }
  const shown = (product: string): string => products.get(product) || product;
  return (element, elements) => {
    const seen = new Set<string>();
    for (let at: string | undefined = element; at !== undefined && !seen.has(at); ) {
      const product = allocated.get(at);
      if (product !== undefined) return shown(product);
      seen.add(at);
      at = devices.get(at)?.parent;
    }
    const [only, other] = named;
    if (only !== undefined && other === undefined) return shown(only);
    if (elements.length === 1) return "";
    return devices.get(element)?.name || element;
  };
}
