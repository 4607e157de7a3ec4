// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The engine's own elementary functions against the C library's in extended precision (whose error
// is far below half a unit of a double), in units in the last place.
#include "sim/basics/elementary.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <string>

namespace el = redress::elementary;

namespace {

constexpr int kDraws = 200000;

/// |found - wanted| in units in the last place of `wanted` as a double.
double calc_ulps(double found, long double wanted) {
  const double rounded = std::fabs(static_cast<double>(wanted));
  const double above = std::nextafter(rounded, std::numeric_limits<double>::infinity());
  const long double unit = static_cast<long double>(above) - static_cast<long double>(rounded);
  return static_cast<double>(std::fabs(static_cast<long double>(found) - wanted) / unit);
}

/// Numbers of a range: uniform ones, and ones uniform in magnitude down to `smallest`.
class Draws {
 public:
  explicit Draws(std::uint64_t seed) : engine_(seed) {}
  double uniform(double low, double high) { return low + (high - low) * unit(); }
  double by_magnitude(double smallest, double largest) {
    const double size = std::exp(uniform(std::log(smallest), std::log(largest)));
    return engine_() % 2 == 0 ? size : -size;
  }

 private:
  double unit() { return static_cast<double>(engine_() >> 11) * 0x1p-53; }
  std::mt19937_64 engine_;
};

struct Worst {
  double ulps = 0.0;
  double at = 0.0;
  void take(double x, double found, long double wanted) {
    const double u = calc_ulps(found, wanted);
    if (!(u <= ulps)) {  // a NaN is the worst of all
      ulps = u;
      at = x;
    }
  }
};

#define REQUIRE_WITHIN_ULPS(worst, limit)                \
  do {                                                   \
    INFO((worst).ulps << " ulp at x = " << (worst).at);  \
    REQUIRE((worst).ulps <= (limit));                    \
  } while (false)

bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

}  // namespace

TEST_CASE("sine and cosine are within 2 units in the last place and the tangent within 4") {
  // Beyond a thousand radians (the engine stays within ten) the reduction costs one unit more. The
  // tangent is a quotient of two functions with 2 units each and cannot promise less than 4.
  Worst sine, cosine, tangent, far_sine, far_cosine, far_tangent;
  const auto check = [&](double x) {
    const long double wide = x;
    const bool far = std::fabs(x) > 1000;
    (far ? far_sine : sine).take(x, el::sine(x), std::sin(wide));
    (far ? far_cosine : cosine).take(x, el::cosine(x), std::cos(wide));
    (far ? far_tangent : tangent).take(x, el::tangent(x), std::tan(wide));
  };
  Draws draws(1);
  for (int i = 0; i < kDraws; ++i) {
    check(draws.uniform(-1.6, 1.6));
    check(draws.uniform(-1000, 1000));
    check(draws.uniform(-1e6, 1e6));
    check(draws.by_magnitude(1e-18, 1e6));
  }
  // Where the reduction loses most: next to the multiples of a quarter turn.
  for (int n = 1; n < 600000; n += (n < 700 ? 1 : 7)) {
    const double x = n * 1.57079632679489661923;
    check(x);
    check(std::nextafter(x, 0.0));
    check(std::nextafter(x, 1e9));
  }
  REQUIRE_WITHIN_ULPS(sine, 2.0);
  REQUIRE_WITHIN_ULPS(cosine, 2.0);
  REQUIRE_WITHIN_ULPS(tangent, 4.0);
  REQUIRE_WITHIN_ULPS(far_sine, 3.0);
  REQUIRE_WITHIN_ULPS(far_cosine, 3.0);
  REQUIRE_WITHIN_ULPS(far_tangent, 6.0);
}

TEST_CASE("the arc tangent is within 2 units in the last place and what is made of it within 4") {
  // Of a point: the quotient adds half a unit, the quadrant another. Arc sine and cosine add the
  // roundings of (1 - x)(1 + x), of its root and of the quotient.
  Worst tangent, sine, cosine, point;
  Draws draws(2);
  for (int i = 0; i < kDraws; ++i) {
    for (const double x : {draws.uniform(-2, 2), draws.by_magnitude(1e-18, 1e15)}) {
      tangent.take(x, el::arc_tangent(x), std::atan(static_cast<long double>(x)));
    }
    for (const double x : {draws.uniform(-1, 1), draws.by_magnitude(1e-18, 1),
                           1.0 - std::fabs(draws.by_magnitude(1e-16, 0.1)),
                           std::fabs(draws.by_magnitude(1e-16, 0.1)) - 1.0}) {
      sine.take(x, el::arc_sine(x), std::asin(static_cast<long double>(x)));
      cosine.take(x, el::arc_cosine(x), std::acos(static_cast<long double>(x)));
    }
    const double y = draws.by_magnitude(1e-9, 1e4);
    const double x = draws.by_magnitude(1e-9, 1e4);
    point.take(y / x, el::arc_tangent(y, x),
               std::atan2(static_cast<long double>(y), static_cast<long double>(x)));
  }
  for (int k = 0; k < 8; ++k) {  // it changes its centre at odd sixteenths
    const double x = (k + 0.5) / 8;
    for (const double at : {x, std::nextafter(x, 0.0), std::nextafter(x, 1.0)}) {
      tangent.take(at, el::arc_tangent(at), std::atan(static_cast<long double>(at)));
    }
  }
  REQUIRE_WITHIN_ULPS(tangent, 2.0);
  REQUIRE_WITHIN_ULPS(sine, 4.0);
  REQUIRE_WITHIN_ULPS(cosine, 4.0);
  REQUIRE_WITHIN_ULPS(point, 4.0);
}

TEST_CASE("exponential and logarithm are within 2 units in the last place") {
  Worst exponential, logarithm;
  Draws draws(3);
  for (int i = 0; i < kDraws; ++i) {
    for (const double x : {draws.uniform(-700, 709), draws.uniform(-1, 1),
                           draws.by_magnitude(1e-18, 700),
                           // next to where the power of two changes
                           (std::floor(draws.uniform(-900, 900)) + 0.5) * 0.693147180559945309}) {
      exponential.take(x, el::exponential(x), std::exp(static_cast<long double>(x)));
    }
    for (const double x : {std::fabs(draws.by_magnitude(1e-300, 1e300)), draws.uniform(0.5, 2),
                           1.0 + draws.by_magnitude(1e-15, 0.1)}) {
      logarithm.take(x, el::logarithm(x), std::log(static_cast<long double>(x)));
    }
  }
  REQUIRE_WITHIN_ULPS(exponential, 2.0);
  REQUIRE_WITHIN_ULPS(logarithm, 2.0);
}

TEST_CASE("a power is as good as its logarithm lets it be") {
  // y = e ln(x) carries 2 units of the logarithm and half a unit of the product, each relative to y
  // and so worth |y| units in exp(y); a unit is up to twice the relative rounding.
  Draws draws(4);
  for (int i = 0; i < kDraws; ++i) {
    const double x = std::fabs(draws.by_magnitude(1e-6, 1e6));
    const double exponent = draws.uniform(-5, 5);
    const long double wanted = std::pow(static_cast<long double>(x),
                                        static_cast<long double>(exponent));
    const double y = std::fabs(exponent * std::log(x));
    INFO(x << " to the " << exponent);
    REQUIRE(calc_ulps(el::power(x, exponent), wanted) <= 2.0 + 2.0 * 2.5 * y);
  }
  REQUIRE(el::power(1.0, 7.3) == 1.0);
  REQUIRE(el::power(42.0, 0.0) == 1.0);
}

TEST_CASE("the square root is the correctly rounded one") {
  Draws draws(5);
  for (int i = 0; i < kDraws; ++i) {
    const double x = std::fabs(draws.by_magnitude(1e-300, 1e300));
    REQUIRE(el::square_root(x) == std::sqrt(x));
  }
  REQUIRE(el::square_root(0.0) == 0.0);
}

TEST_CASE("odd functions are exactly odd and even ones exactly even") {
  // A mirrored patient must show the mirrored trace to the last bit.
  Draws draws(6);
  const auto check = [](double x) {
    INFO("x = " << x);
    REQUIRE(el::sine(-x) == -el::sine(x));
    REQUIRE(el::cosine(-x) == el::cosine(x));
    REQUIRE(el::tangent(-x) == -el::tangent(x));
    REQUIRE(el::arc_tangent(-x) == -el::arc_tangent(x));
    if (x >= -1 && x <= 1) REQUIRE(el::arc_sine(-x) == -el::arc_sine(x));
    for (const double across : {-3.0, -0.2, 0.2, 3.0}) {
      REQUIRE(el::arc_tangent(-x, across) == -el::arc_tangent(x, across));
    }
  };
  for (int i = 0; i < 20000; ++i) {
    check(draws.by_magnitude(1e-12, 1e6));
    check(draws.uniform(-1, 1));
  }
  // Halves of a quarter turn, where the nearest multiple is a tie.
  for (int n = 1; n < 2000; n += 2) check(n * 0.78539816339744830962);
}

TEST_CASE("values that must come out exactly") {
  REQUIRE(el::sine(0.0) == 0.0);
  REQUIRE(el::cosine(0.0) == 1.0);
  REQUIRE(el::tangent(0.0) == 0.0);
  REQUIRE(el::exponential(0.0) == 1.0);
  REQUIRE(el::logarithm(1.0) == 0.0);
  REQUIRE(el::arc_tangent(1.0) == el::kPi / 4);
  REQUIRE(el::arc_sine(1.0) == el::kPi / 2);
  REQUIRE(el::arc_sine(-1.0) == -el::kPi / 2);
  REQUIRE(el::arc_cosine(1.0) == 0.0);
  REQUIRE(el::arc_cosine(-1.0) == el::kPi);
  REQUIRE(el::arc_tangent(0.0, 0.0) == 0.0);
  REQUIRE(el::arc_tangent(0.0, -1.0) == el::kPi);
  REQUIRE(el::arc_tangent(1.0, 0.0) == el::kPi / 2);
  REQUIRE(el::arc_tangent(-1.0, 0.0) == -el::kPi / 2);
  REQUIRE(el::arc_tangent(1.0, -1.0) == el::kPi - el::kPi / 4);
  for (int n = -1022; n <= 1023; ++n) {  // powers of two have an exact logarithm up to the constant
    const double x = std::ldexp(1.0, n);
    REQUIRE(calc_ulps(el::logarithm(x), std::log(static_cast<long double>(x))) <= 1.0);
  }
}

TEST_CASE("the exponential ends as its header says") {
  REQUIRE(el::exponential(-700.1) == 0.0);
  REQUIRE(el::exponential(-1e300) == 0.0);
  REQUIRE(el::exponential(-700.0) > 0.0);
  REQUIRE(el::exponential(709.1) == std::numeric_limits<double>::max());
  REQUIRE(el::exponential(1e300) == std::numeric_limits<double>::max());
  REQUIRE(std::isfinite(el::exponential(709.0)));
}

TEST_CASE("the small helpers") {
  REQUIRE(same_bits(el::magnitude(-0.0), 0.0));
  REQUIRE(same_bits(el::magnitude(0.0), 0.0));
  REQUIRE(el::magnitude(-2.5) == 2.5);
  REQUIRE(el::magnitude(2.5) == 2.5);
  REQUIRE(el::hypotenuse(3.0, 4.0) == 5.0);
  REQUIRE(el::hypotenuse(-3.0, 4.0) == 5.0);
  REQUIRE(el::clamp(2.0, 0.0, 1.0) == 1.0);
  REQUIRE(el::clamp(-2.0, 0.0, 1.0) == 0.0);
  REQUIRE(el::clamp(0.5, 0.0, 1.0) == 0.5);
  REQUIRE(el::clamp(3, 1, 2) == 2);
  REQUIRE(el::kDegreesPerRadian * el::kRadiansPerDegree == Approx(1.0).epsilon(1e-15));
}

TEST_CASE("the check number of the arithmetic is the one that records were made with") {
  // Not a value from outside: it pins the bits. If it changes, records of earlier versions do not
  // replay any more; the version of the record format has to change with it.
  REQUIRE(el::arithmetic_check() == 0x6e8a678ef4a73a82ULL);
}
