// A second voice for formats/text/metar: decodes a file of reports, one a line, with the npm package metar-taf-parser
// and prints what it understood as CSV. Its output is kept in tests/data-external/metar_oracle.csv; the reports
// themselves are not, each row names its line and the FNV-1a 64 hash of the report as sent.
//
//     npm install metar-taf-parser@9.1.3        in any folder; then, in that folder:
//     node <here>/metar_oracle.mjs reports.txt > metar_oracle.csv
//
// Speeds in m/s, visibility in metres (">" at least, "<" below), clouds as amount@feet with "!" for CB or TCU,
// temperatures in Celsius (tenths of the remarks where the package finds them), pressure in hPa.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const from_here = createRequire(join(process.cwd(), "package.json"));
const entry = from_here.resolve("metar-taf-parser");
const { parseMetar } = await import(pathToFileURL(entry));
const { version } = JSON.parse(readFileSync(from_here.resolve("metar-taf-parser/package.json"), "utf8"));

const fnv1a64 = (bytes) => {
  let hash = 0xcbf29ce484222325n;
  for (const byte of bytes) hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn;
  return hash.toString(16).padStart(16, "0");
};

const speed_unit = { KT: 1852 / 3600, MPS: 1, "KM/H": 1 / 3.6 };
const number = (value, digits) => (value === undefined || value === null ? "" : value.toFixed(digits));
const bound = { P: ">", M: "<" };

const visibility_of = (report) => {
  if (report.cavok) return ">10000.0";
  const v = report.visibility;
  if (!v) return "";
  const metres = v.unit === "SM" ? v.value * 1609.344 : v.value === 9999 ? 10000 : v.value;
  return `${bound[v.indicator] ?? ""}${metres.toFixed(1)}`;
};

const clouds_of = (report) => {
  const layers = report.clouds
    .filter((c) => c.quantity !== "SKC" && c.quantity !== "NSC")
    .map((c) => `${c.quantity}@${c.height ?? "/"}${c.type === "CB" || c.type === "TCU" ? "!" : ""}`);
  if (report.verticalVisibility !== undefined) layers.push(`VV@${report.verticalVisibility}`);
  return layers.join(" ");
};

const row_of = (text) => {
  const report = parseMetar(text);
  const wind = report.wind;
  const calm = wind && wind.speed === 0;
  const tenths = report.remarks.find((r) => r.type === "HourlyTemperatureDewPoint");
  const a = report.altimeter;
  return [
    !wind ? "" : calm ? "calm" : wind.degrees === undefined ? "VRB" : String(wind.degrees),
    wind ? number(wind.speed * speed_unit[wind.unit], 3) : "",
    wind && wind.gust !== undefined ? number(wind.gust * speed_unit[wind.unit], 3) : "",
    visibility_of(report),
    report.visibility?.min ? number(report.visibility.min.value, 1) : "",
    clouds_of(report),
    number(tenths?.temperature ?? report.temperature, 1),
    number(tenths?.dewPoint ?? report.dewPoint, 1),
    a ? number(a.unit === "inHg" ? a.value * 33.86389 : a.value, 2) : "",
  ];
};

console.log(`# Made by tools/oracles/metar_oracle.mjs with the npm package metar-taf-parser ${version}.`);
console.log(
  "line,hash,wind_from_deg,wind_speed_m_s,gust_m_s,visibility_m,visibility_lowest_m,clouds,temperature_c,dew_point_c,pressure_hpa,refused",
);
const lines = readFileSync(process.argv[2]).toString("latin1").split("\n");
lines.forEach((line, index) => {
  if (line === "") return;
  const hash = fnv1a64(Buffer.from(line, "latin1"));
  const normal = line.toUpperCase().replace(/=.*$/, "").trim().replace(/\s+/g, " ");
  try {
    console.log([index + 1, hash, ...row_of(normal), ""].join(","));
  } catch (error) {
    console.log([index + 1, hash, "", "", "", "", "", "", "", "", "", error.constructor.name].join(","));
  }
});
