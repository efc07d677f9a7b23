// A second voice for formats/text/metar: decodes a file of reports, one a line, with the npm package metar-taf-parser
// and prints what it understood as CSV. Its output is kept in tests/data-external/metar_oracle.csv; the reports
// themselves are not, each row names its line and the FNV-1a 64 hash of the report as sent.
//
//     npm install metar-taf-parser@9.1.3        in any folder; then, in that folder:
//     node <here>/metar_oracle.mjs reports.txt > metar_oracle.csv
//
// Speeds in m/s, visibility in metres (">" at least, "<" below), clouds as amount@feet with "!" for CB or TCU,
// temperatures in Celsius (tenths of the remarks where the package finds them), pressure in hPa.
import { clouds_of, number, parser, reports_of, version, visibility_of, wind_of } from "./reports.mjs";

const row_of = (text) => {
  const report = parser.parseMetar(text);
  const tenths = report.remarks.find((r) => r.type === "HourlyTemperatureDewPoint");
  const a = report.altimeter;
  return [
    ...wind_of(report.wind),
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
for (const [line, hash, text] of reports_of(process.argv[2])) {
  try {
    console.log([line, hash, ...row_of(text), ""].join(","));
  } catch (error) {
    console.log([line, hash, "", "", "", "", "", "", "", "", "", error.constructor.name].join(","));
  }
}
