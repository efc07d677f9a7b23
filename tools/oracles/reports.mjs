// What the oracles of formats/text share: the npm package metar-taf-parser found from the folder where one of them is
// run, the reports with their hashes, and how speed, visibility, cloud and the rest are written as CSV.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const from_here = createRequire(join(process.cwd(), "package.json"));
export const parser = await import(pathToFileURL(from_here.resolve("metar-taf-parser")));
export const { version } = JSON.parse(readFileSync(from_here.resolve("metar-taf-parser/package.json"), "utf8"));

const fnv1a64 = (bytes) => {
  let hash = 0xcbf29ce484222325n;
  for (const byte of bytes) hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn;
  return hash.toString(16).padStart(16, "0");
};

// The reports of a file, one a line: [line number, hash, text without what ends it].
export const reports_of = (path) =>
  readFileSync(path)
    .toString("latin1")
    .split("\n")
    .map((line, index) => [
      index + 1,
      fnv1a64(Buffer.from(line, "latin1")),
      line.toUpperCase().replace(/=.*$/, "").trim().replace(/\s+/g, " "),
    ])
    .filter(([, , text]) => text !== "");

const speed_unit = { KT: 1852 / 3600, MPS: 1, "KM/H": 1 / 3.6 };
export const number = (value, digits) => (value === undefined || value === null ? "" : value.toFixed(digits));
export const speed = (value, unit) => number(value === undefined ? value : value * speed_unit[unit], 3);
const bound = { P: ">", M: "<" };

// Direction, mean speed, gust.
export const wind_of = (wind) =>
  wind
    ? [
        wind.speed === 0 ? "calm" : wind.degrees === undefined ? "VRB" : String(wind.degrees),
        speed(wind.speed, wind.unit),
        speed(wind.gust, wind.unit),
      ]
    : ["", "", ""];

export const visibility_of = (report) => {
  if (report.cavok) return ">10000.0";
  const v = report.visibility;
  if (!v) return "";
  const metres = v.unit === "SM" ? v.value * 1609.344 : v.value === 9999 ? 10000 : v.value;
  return `${bound[v.indicator] ?? ""}${metres.toFixed(1)}`;
};

export const clouds_of = (report) => {
  const layers = report.clouds
    .filter((c) => c.quantity !== "SKC" && c.quantity !== "NSC")
    .map((c) => `${c.quantity}@${c.height ?? "/"}${c.type === "CB" || c.type === "TCU" ? "!" : ""}`);
  if (report.verticalVisibility !== undefined) layers.push(`VV@${report.verticalVisibility}`);
  return layers.join(" ");
};
