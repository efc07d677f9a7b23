// A second voice for formats/text/taf: decodes a file of forecasts, one a line, with the npm package metar-taf-parser
// and prints what it understood as CSV, a row for the base (0) and for each change group. Its output is kept in
// tests/data-external/taf_oracle.csv; the forecasts themselves are not, each row names its line and the FNV-1a 64 hash
// of the forecast as sent.
//
//     npm install metar-taf-parser@9.1.3        in any folder; then, in that folder:
//     node <here>/taf_oracle.mjs forecasts.txt > taf_oracle.csv
//
// Times as ddhhmm, in a month of 30 days, hour 24 as the next day's 0; speeds in m/s; visibility in metres (">" at
// least, "<" below); clouds as amount@feet with "!" for CB or TCU, or "clear"; weather with NSW where it ends (also by
// CAVOK); shear as feet@degrees/speed; extremes as TX or TN, Celsius and time; marks of the heading.
import { clouds_of, parser, reports_of, speed, version, visibility_of, wind_of } from "./reports.mjs";

const two = (n) => String(n).padStart(2, "0");
const time_of = (day, hour, minute = 0) => {
  const [d, h] = hour === 24 ? [(day % 30) + 1, 0] : [day, hour];
  return two(d) + two(h) + two(minute);
};

const kind_of = (group) =>
  ({
    FM: () => "from",
    BECMG: () => "becoming",
    TEMPO: () => (group.probability ? "prob_tempo" : "tempo"),
    INTER: () => "inter",
    PROB: () => "prob",
  })[group.type]();

const sky_of = (group) => {
  const clear = group.cavok || group.clouds.some((c) => c.quantity === "SKC" || c.quantity === "NSC");
  return clouds_of(group) || (clear ? "clear" : "");
};

const weather_of = (group) => {
  const groups = group.weatherConditions.map(
    (w) => (w.intensity ?? "") + (w.descriptive ?? "") + w.phenomenons.join(""),
  );
  if (group.cavok) groups.push("NSW");
  return groups.join(" ");
};

const shear_of = ({ windShear: w }) => (w ? `${w.height}@${w.degrees}/${speed(w.speed, w.unit)}` : "");

const extremes_of = (taf) =>
  [
    ["TX", taf.maxTemperature],
    ["TN", taf.minTemperature],
  ]
    .filter(([, t]) => t)
    .map(([name, t]) => `${name}${t.temperature}@${time_of(t.day, t.hour)}`)
    .join(" ");

const marks_of = (taf) =>
  ["amendment", "corrected", "canceled", "nil"].filter((mark) => taf[mark]).join(" ");

const said = (group) => [
  ...wind_of(group.wind),
  visibility_of(group),
  sky_of(group),
  weather_of(group),
  shear_of(group),
];

const rows_of = (text) => {
  const taf = parser.parseTAF(text);
  const v = taf.validity;
  return [
    [
      "base",
      "",
      time_of(v.startDay, v.startHour),
      time_of(v.endDay, v.endHour),
      ...said(taf),
      extremes_of(taf),
      marks_of(taf),
    ],
    ...taf.trends.map((group) => [
      kind_of(group),
      group.probability ?? "",
      time_of(group.validity.startDay, group.validity.startHour, group.validity.startMinutes),
      group.type === "FM" ? "" : time_of(group.validity.endDay, group.validity.endHour),
      ...said(group),
      "",
      "",
    ]),
  ];
};

console.log(`# Made by tools/oracles/taf_oracle.mjs with the npm package metar-taf-parser ${version}.`);
const fields =
  "kind,probability,from,to,wind_from_deg,wind_speed_m_s,gust_m_s,visibility_m,clouds,weather,shear,extremes,marks";
console.log(`line,hash,group,${fields},refused`);
for (const [line, hash, text] of reports_of(process.argv[2])) {
  try {
    rows_of(text).forEach((row, group) => console.log([line, hash, group, ...row, ""].join(",")));
  } catch (error) {
    console.log([line, hash, 0, ...fields.split(",").map(() => ""), error.constructor.name].join(","));
  }
}
