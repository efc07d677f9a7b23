// wants: conversion from|no viable conversion|could not convert
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const Mass fuel = 15.0 * us_gallon;
#else
const Mass fuel = 15.0 * us_gallon * (505.0 * kilogram_per_cubic_metre);
#endif
