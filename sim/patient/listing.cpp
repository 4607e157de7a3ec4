// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/listing.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using elementary::kDegreesPerRadian;
using elementary::kRadiansPerDegree;

namespace {

// Series, because two eyes ask at every tick: within 1e-9 up to 60 degrees and 1e-7 up to 90.
double short_sine(double x) {
  const double y = x * x;
  return x * (1.0 + y * (-1.0 / 6.0 +
                         y * (1.0 / 120.0 + y * (-1.0 / 5040.0 +
                                                 y * (1.0 / 362880.0 - y * (1.0 / 39916800.0))))));
}

double short_cosine(double x) {
  const double y = x * x;
  return 1.0 + y * (-1.0 / 2.0 +
                    y * (1.0 / 24.0 +
                         y * (-1.0 / 720.0 + y * (1.0 / 40320.0 + y * (-1.0 / 3628800.0 +
                                                                       y * (1.0 / 479001600.0))))));
}

// For what is small: half the area of a narrow triangle.
double short_arc_tangent(double q) {
  const double y = q * q;
  return q * (1.0 + y * (-1.0 / 3.0 +
                         y * (1.0 / 5.0 + y * (-1.0 / 7.0 + y * (1.0 / 9.0 - y * (1.0 / 11.0))))));
}

}  // namespace

double calc_listing_turn(Direction3 d, double vergence_deg) {
  const double temporal = 0.5 * kListingShare * vergence_deg * kRadiansPerDegree;
  const double h = d.horizontal * kRadiansPerDegree;
  const double v = d.vertical * kRadiansPerDegree;
  const double st = short_sine(temporal);
  const double ct = short_cosine(temporal);
  const double cv = short_cosine(v);
  const double x = short_sine(h) * cv;
  const double z = short_cosine(h) * cv;
  // Half the area of a triangle of unit vectors a, b, c: the tangent is
  // a . (b x c) / (1 + a . b + b . c + c . a)  (Van Oosterom & Strackee 1983).
  return 2.0 * short_arc_tangent(st * short_sine(v) / (1.0 + ct + (st * x + ct * z) + z)) *
         kDegreesPerRadian;
}

}  // namespace redress::patient
