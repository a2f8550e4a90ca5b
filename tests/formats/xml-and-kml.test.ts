// XML 1.0 and KML 2.2 (OGC 07-147r2), from memory; whole files are read in verdicts.test.ts.
import { describe, expect, it } from "vitest";
import { rawKml, readXml, settleLayer, xmlBelow, xmlChild, xmlTextOf } from "../../src/formats/index.ts";
import { bytesOf, refusal } from "./support.ts";

const xml = (text: string) => readXml(bytesOf(text), "a.xml");
const kml = (inside: string) => rawKml(bytesOf(`<kml><Document>${inside}</Document></kml>`), "a.kml");

describe("readXml", () => {
  it("reads elements, attributes, texts, entities and sections, without prefixes", () => {
    const root = xml(
      '<?xml version="1.0"?><!-- <x> --><g:a xmlns:g="u" k=\'1 &lt; 2\' g:m="&#65;&#x42;">\n one <b/> two &amp; <![CDATA[<3>]]><c>d</c></g:a>\n',
    );
    expect(root.name).toBe("a");
    expect(root.attributes.get("k")).toBe("1 < 2");
    expect(root.attributes.get("m")).toBe("AB");
    expect(root.text).toBe("one  two & <3>");
    expect(root.children.map(({ name, line }) => [name, line])).toEqual([
      ["b", 2],
      ["c", 2],
    ]); // prettier as one line
    expect(xmlTextOf(root, "C")).toBe("d");
    expect(xmlChild(root, "zz")).toBeUndefined();
  });

  it("takes the encoding from the declaration, else as texts are read", () => {
    const latin = new Uint8Array([
      ...bytesOf('<?xml version="1.0" encoding="ISO-8859-1"?><a>'),
      0xe9,
      ...bytesOf("</a>"),
    ]);
    expect(readXml(latin, "a.xml").text).toBe("é");
    expect(xml("\ufeff<a>é</a>").text).toBe("é");
  });

  it.each([
    [
      "xml-doctype",
      '<?xml version="1.0"?>\n<!DOCTYPE a [<!ENTITY e SYSTEM "file:///etc/passwd">]><a>&e;</a>',
      "line 2",
    ],
    ["xml-doctype", "<!doctype html><a/>", "line 1"],
    ["not-xml", "<a>\n<b></a>", "line 2"],
    ["not-xml", "<a>\n&unknown;</a>", "&unknown;"],
    ["not-xml", "<a>&constructor;</a>", "&constructor;"],
    ["not-xml", "<a>&#x110000;</a>", "line 1"],
    ["not-xml", "<a x=1/>", "attribute x"],
    ["not-xml", "<a x/>", "<a>"],
    ["not-xml", "<a x='1/>", "no value in quotes"],
    ["not-xml", "<a/><b/>", "second root"],
    ["not-xml", "hello", "outside the root"],
    ["not-xml", "<a><!-- </a>", "comment"],
    ["not-xml", "", "no XML"],
    ["too-deep", "<a>".repeat(200), "100 deep"],
  ])("refuses %s: %s", (code, text, where) => {
    const error = refusal(() => xml(text));
    expect(error.code).toBe(code);
    expect(error.message).toContain("a.xml");
    expect(error.message).toContain(where);
  });

  it("finds elements at any depth, in order", () => {
    const found = xmlBelow(xml("<a><b n='1'/><c><b n='2'><b n='3'/></b></c></a>"), "B");
    expect(found.map(({ attributes }) => attributes.get("n"))).toEqual(["1", "2"]);
  });
});

describe("rawKml", () => {
  const ring = "<LinearRing><coordinates>-93,42,5 -92,42 -92,43 -93,42</coordinates></LinearRing>";

  it("reads shapes, names and data, drops heights, names what it does not read", () => {
    const layer = kml(
      `<Placemark><name>A</name><ExtendedData><Data name="acres"><value>7</value></Data></ExtendedData><Polygon><outerBoundaryIs>${ring}</outerBoundaryIs></Polygon></Placemark>` +
        "<Placemark><MultiGeometry><Point><coordinates>-93,42</coordinates></Point><Point><coordinates> -92,42 </coordinates></Point></MultiGeometry></Placemark>" +
        "<Placemark><Track><coord>-93 42 0</coord></Track></Placemark><GroundOverlay><Icon><href>http://x.invalid</href></Icon></GroundOverlay>",
    );
    expect(layer.features.map(({ record, geometry }) => [record, geometry?.kind])).toEqual([
      [1, "polygon"],
      [2, "point"],
      [2, "point"],
      [3, undefined],
    ]);
    expect(layer.features[0]!.properties).toEqual({ name: "A", acres: "7" });
    expect(layer.notices.map(({ code }) => code).sort()).toEqual(["link-ignored", "shape-ignored"]);
    expect(layer.stated).toMatchObject({ from: "standard" });
  });

  it.each([
    [
      "bad-coordinate",
      "<Placemark><Point><coordinates>-93;42</coordinates></Point></Placemark>",
      "feature 1",
    ],
    ["bad-coordinate", "<Placemark><Point><coordinates>-93,</coordinates></Point></Placemark>", "feature 1"],
    [
      "line-too-short",
      "<Placemark/><Placemark><LineString><coordinates>1,1</coordinates></LineString></Placemark>",
      "feature 2",
    ],
    ["no-shapes", "", "no shapes"],
  ])("refuses %s and says where", (code, inside, where) => {
    const error = refusal(() => settleLayer(kml(inside), {}));
    expect([error.code, error.message]).toEqual([code, expect.stringContaining(where)]);
  });

  it("refuses another kind of XML", () =>
    expect(refusal(() => rawKml(bytesOf("<gpx/>"), "a.kml")).code).toBe("not-kml"));
});
