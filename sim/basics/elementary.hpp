// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Elementary functions made of + - * / and the square root alone.
//
// Why not the C library's: its sine, exponential and their kin choose a variant by processor at run
// time (with or without fused multiply-add) and differ in the last bit, so a record would not
// replay on another machine. These give the same bits on every x86-64 processor, compiler and
// optimisation level, provided that the compiler does not contract a*b+c (-ffp-contract=off, set on
// the target).
//
// Accuracy: within 2 units in the last place; tangent, arc sine, arc cosine and the arc tangent of
// two arguments, which combine two roundings, within 4 (tests compare with the C library). Angles
// in radians unless the name says degrees. No errors are raised: arguments outside the stated range
// are the caller's fault.
#pragma once

#ifdef __SSE2__
#include <emmintrin.h>
#endif

namespace redress::elementary {

inline constexpr double kPi = 3.14159265358979323846;
inline constexpr double kDegreesPerRadian = 180.0 / kPi;
inline constexpr double kRadiansPerDegree = kPi / 180.0;

/// Correctly rounded by IEEE 754; x >= 0.
inline double square_root(double x) {
#ifdef __SSE2__
  // The instruction itself. Through the compiler's own square root it is either a call into the C
  // library (for errno) or, with -fno-math-errno, wrong code: gcc 12.2 from -O1 on then takes a
  // function that calls it for one that reads no memory, and drops the stores to its arguments.
  return _mm_cvtsd_f64(_mm_sqrt_sd(_mm_setzero_pd(), _mm_set_sd(x)));
#else
  return __builtin_sqrt(x);
#endif
}
inline double magnitude(double x) { return x < 0.0 ? -x : (x == 0.0 ? 0.0 : x); }

/// |x| up to 1e6 radians.
double sine(double x);
double cosine(double x);
double tangent(double x);
/// Range -pi/2 ... pi/2.
double arc_tangent(double x);
/// Angle of the point (x, y), range -pi ... pi; 0 at the origin. Odd in y.
double arc_tangent(double y, double x);
/// x in -1 ... 1.
double arc_sine(double x);
double arc_cosine(double x);
/// 0 below -700; the largest double above 709.
double exponential(double x);
/// Natural logarithm of a positive normal number.
double logarithm(double x);
/// x > 0 to any power, through the logarithm: a few units in the last place.
double power(double x, double exponent);

inline double hypotenuse(double a, double b) { return square_root(a * a + b * b); }

template <class T>
constexpr T clamp(T x, T low, T high) {
  return x < low ? low : (high < x ? high : x);
}

/// A number that changes whenever any of these functions changes a bit. Kept in each record, so
/// that a record made with other arithmetic is recognised before it is replayed.
unsigned long long arithmetic_check();

}  // namespace redress::elementary
