// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/elementary.hpp"

#include <bit>
#include <cstdint>

#ifdef __FAST_MATH__
#error "the engine promises the same bits everywhere; fast-math breaks that promise"
#endif

namespace redress::elementary {
namespace {

// pi/2 in three parts; the first two have 33 bits, so that n times them is exact for n < 2^20.
constexpr double kHalfPiHigh = 0x1.921fb544p+0;
constexpr double kHalfPiMiddle = 0x1.0b4611a6p-34;
constexpr double kHalfPiLow = 0x1.3198a2e037073p-69;
constexpr double kHalfPi = 1.57079632679489661923;
constexpr double kQuarterPi = 0.78539816339744830962;

// Taylor series on |x| <= pi/4, summed in a fixed tree so that the order of roundings is fixed too.
double sine_kernel(double x) {
  const double z = x * x;
  const double w = z * z;
  const double a = (-1.0 / 6) + z * (1.0 / 120);
  const double b = (-1.0 / 5040) + z * (1.0 / 362880);
  const double c = (-1.0 / 39916800) + z * (1.0 / 6227020800.0);
  const double d = (-1.0 / 1307674368000.0) + z * (1.0 / 355687428096000.0);
  const double p = a + w * (b + w * (c + w * d));
  return x + x * (z * p);
}

double cosine_kernel(double x) {
  const double z = x * x;
  const double w = z * z;
  const double a = (1.0 / 24) + z * (-1.0 / 720);
  const double b = (1.0 / 40320) + z * (-1.0 / 3628800);
  const double c = (1.0 / 479001600) + z * (-1.0 / 87178291200.0);
  const double d = 1.0 / 20922789888000.0;
  const double p = a + w * (b + w * (c + w * d));
  const double half = 0.5 * z;
  const double rounded = 1.0 - half;
  return rounded + (((1.0 - rounded) - half) + w * p);  // carries the rounding of 1 - z/2
}

std::int64_t nearest(double x) {
  // Symmetric about 0, so that the functions stay exactly odd or even.
  return x >= 0 ? static_cast<std::int64_t>(x + 0.5) : static_cast<std::int64_t>(x - 0.5);
}

struct Reduced {
  double rest;
  unsigned quadrant;
};

Reduced reduce(double x) {
  const std::int64_t n = nearest(x * 0.63661977236758134308);
  const double turns = static_cast<double>(n);
  const double a = x - turns * kHalfPiHigh;
  const double rest = (a - turns * kHalfPiMiddle) - turns * kHalfPiLow;
  return {rest, static_cast<unsigned>(n & 3)};
}

// arctan(k/8) for k = 0 ... 8
constexpr double kArcTangentOfEighths[9] = {0.0,
                                            0.12435499454676143503,
                                            0.24497866312686415417,
                                            0.35877067027057222040,
                                            0.46364760900080611621,
                                            0.55859931534356243597,
                                            0.64350110879328438680,
                                            0.71882999962162450542,
                                            kQuarterPi};

double arc_tangent_unit(double x) {  // 0 <= x <= 1
  const int k = static_cast<int>(x * 8 + 0.5);
  const double centre = k * 0.125;
  const double t = k != 0 ? (x - centre) / (1.0 + x * centre) : x;
  const double z = t * t;
  const double w = z * z;
  const double a = (-1.0 / 3) + z * (1.0 / 5);
  const double b = (-1.0 / 7) + z * (1.0 / 9);
  const double c = (-1.0 / 11) + z * (1.0 / 13);
  const double p = a + w * (b + w * c);
  return kArcTangentOfEighths[k] + (t + t * (z * p));
}

double arc_tangent_positive(double x) {
  return x <= 1 ? arc_tangent_unit(x) : kHalfPi - arc_tangent_unit(1.0 / x);
}

// ln 2 in two parts; the first has 33 bits.
constexpr double kLnTwoHigh = 0x1.62e42fefap-1;
constexpr double kLnTwoLow = 0x1.cf79abc9e3b39803p-40;

}  // namespace

double sine(double x) {
  if (x <= kQuarterPi && x >= -kQuarterPi) return sine_kernel(x);
  const Reduced r = reduce(x);
  const double v = (r.quadrant & 1U) != 0 ? cosine_kernel(r.rest) : sine_kernel(r.rest);
  return (r.quadrant & 2U) != 0 ? -v : v;
}

double cosine(double x) {
  if (x <= kQuarterPi && x >= -kQuarterPi) return cosine_kernel(x);
  const Reduced r = reduce(x);
  const double v = (r.quadrant & 1U) != 0 ? sine_kernel(r.rest) : cosine_kernel(r.rest);
  return ((r.quadrant + 1U) & 2U) != 0 ? -v : v;
}

double tangent(double x) {
  const double c = cosine(x);
  return sine(x) / c;
}

double arc_tangent(double x) { return x < 0 ? -arc_tangent_positive(-x) : arc_tangent_positive(x); }

double arc_tangent(double y, double x) {
  const double ay = magnitude(y);
  const double ax = magnitude(x);
  double angle = 0.0;
  if (ax != 0 || ay != 0) {
    angle = ay <= ax ? arc_tangent_unit(ay / ax) : kHalfPi - arc_tangent_unit(ax / ay);
  }
  if (x < 0) angle = kPi - angle;
  return y < 0 ? -angle : angle;
}

double arc_sine(double x) { return arc_tangent(x, square_root((1 - x) * (1 + x))); }

double arc_cosine(double x) { return arc_tangent(square_root((1 - x) * (1 + x)), x); }

double exponential(double x) {
  if (x > 709.0) return 1.7976931348623157e308;
  if (x < -700.0) return 0.0;
  const std::int64_t n = nearest(x * 1.44269504088896340736);
  const double turns = static_cast<double>(n);
  const double high = x - turns * kLnTwoHigh;
  const double low = turns * kLnTwoLow;
  const double r = high - low;
  const double z = r * r;
  const double w = z * z;
  const double a = 0.5 + r * (1.0 / 6);
  const double b = (1.0 / 24) + r * (1.0 / 120);
  const double c = (1.0 / 720) + r * (1.0 / 5040);
  const double d = (1.0 / 40320) + r * (1.0 / 362880);
  const double e = (1.0 / 3628800) + r * (1.0 / 39916800);
  const double f = (1.0 / 479001600) + r * (1.0 / 6227020800.0);
  const double q = (a + z * b) + w * ((c + z * d) + w * (e + z * f));
  const double p = 1.0 + ((high + (z * q)) - low);
  return p * std::bit_cast<double>(static_cast<std::uint64_t>(1023 + n) << 52);
}

double logarithm(double x) {
  std::uint64_t bits = std::bit_cast<std::uint64_t>(x);
  std::int64_t exponent = static_cast<std::int64_t>(bits >> 52) - 1023;
  bits = (bits & 0xFFFFFFFFFFFFFULL) | 0x3FF0000000000000ULL;
  double mantissa = std::bit_cast<double>(bits);
  if (mantissa > 1.41421356237309504880) {
    mantissa *= 0.5;
    ++exponent;
  }
  const double s = (mantissa - 1) / (mantissa + 1);
  const double z = s * s;
  const double w = z * z;
  const double a = (1.0 / 3) + z * (1.0 / 5);
  const double b = (1.0 / 7) + z * (1.0 / 9);
  const double c = (1.0 / 11) + z * (1.0 / 13);
  const double d = (1.0 / 15) + z * (1.0 / 17);
  const double e = (1.0 / 19) + z * (1.0 / 21);
  const double p = a + w * (b + w * (c + w * (d + w * e)));
  const double tail = 2 * s + 2 * s * (z * p);
  const double turns = static_cast<double>(exponent);
  return turns * kLnTwoHigh + (tail + turns * kLnTwoLow);
}

double power(double x, double exponent) { return exponential(exponent * logarithm(x)); }

unsigned long long arithmetic_check() {
  std::uint64_t check = 14695981039346656037ULL;
  const auto take = [&check](double v) {
    check = (check ^ std::bit_cast<std::uint64_t>(v)) * 1099511628211ULL;
  };
  for (int i = -200; i <= 200; ++i) {
    const double x = i * 0.0371;
    take(sine(x));
    take(cosine(x));
    take(tangent(x));
    take(arc_tangent(x));
    take(arc_tangent(x, 0.3 - x));
    take(arc_sine(x * 0.13));
    take(exponential(x));
    take(logarithm(x * x + 0.01));
    take(square_root(x * x + 0.5));
  }
  return check;
}

}  // namespace redress::elementary
