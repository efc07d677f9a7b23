/// JSON and JSON Schema from the one description of each struct.
///
/// Keys are the described names with an SI unit taken from the type: a Mass "margin" is "margin_kg", a Temperature
/// "ambient" is "ambient_k", an AltitudeAmsl "worst" is "worst_altitude_amsl_m"... as listed at `key_suffix`. A Measure
/// is
/// {"si": 4.2, "unit": "kg"}. A Sentence is worded. A Moment is ISO 8601 with its offset. An empty optional is null.
#pragma once
