// wants: conversion from|no viable conversion|could not convert
#include "core/base/quantity.hpp"

using namespace pappus;
const GaugePressure shown = GaugePressure::at(90.0 * pound_per_square_inch);
#ifdef WRONG
const Pressure absolute = shown;
#else
const Pressure absolute = standard_atmosphere + shown.from_origin();
#endif
