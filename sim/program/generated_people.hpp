// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// People as they come, drawn from published figures: what a case says of a person's eyes before it
// is asked for anything. Prism dioptres, eso +. tests/program/generated_people_test.cpp holds means
// and spreads against the sources.
#pragma once

#include <array>
#include <cstdint>

#include "sim/basics/eye.hpp"

namespace redress::program {

/// Blur, break and recovery, whole prism dioptres; no blur: nothing is written.
struct DrawnReserve {
  double blur_pd = 0.0;
  double break_pd = 0.0;
  double recovery_pd = 0.0;
};

/// What is drawn of one person, and the near deviation that follows.
struct DrawnPerson {
  double age_years = 25.0;
  bool female = true;
  double interpupillary_mm = 63.0;
  double distance_pd = -1.0;
  double ac_a_pd_per_d = 4.0;
  double proximal_pd = 3.25;
  double near_pd = -3.0;           ///< computed, to half a prism dioptre
  PerEye<double> acuity_logmar{};  ///< to a letter
  DrawnReserve distance_base_out;
  DrawnReserve distance_base_in;  ///< its blur is not written: there is none
  DrawnReserve near_base_out;
  DrawnReserve near_base_in;
};

/// The person of that number, an adult of 18 to 40 not selected for anything.
DrawnPerson draw_person(std::uint64_t seed, std::uint64_t number);

/// The same person at another age: what grows with it, and the near deviation that follows.
void set_age(DrawnPerson& person, double age_years);
/// The near deviation at which this much proximal vergence is left over. It is one for one, nearly,
/// and for large deviations found again.
void solve_near(DrawnPerson& person);

/// Draws of one person by name; new ones go at the end.
enum class Trait : std::uint32_t {
  age,
  pupils,
  distance,
  ac_a,
  proximal,
  reserve,
  words,
  name,
  large,
  sex,
  acuity,
  right_acuity,
  left_acuity,
  distance_base_out,
  distance_base_in = distance_base_out + 3,
  near_base_out = distance_base_in + 3,
  near_base_in = near_base_out + 3,
  side = near_base_in + 3,  ///< how poor a squinting eye is, or how well one is held
};
double draw_uniform(std::uint64_t seed, std::uint64_t number, Trait trait);
double draw_normal(std::uint64_t seed, std::uint64_t number, Trait trait, std::uint32_t part = 0);

double to_whole(double x);
double to_half(double pd);
/// One letter of a chart with five in each line.
double to_letter(double logmar);

}  // namespace redress::program
