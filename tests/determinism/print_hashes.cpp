// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// print_hashes CASE...: examines each case for 20 seconds, noise 1, with acts that touch all that
// could make two builds differ, and prints the hash of the state every 4 seconds.
// Every build must print the same lines (tests/determinism/matrix.sh).
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/elementary.hpp"
#include "sim/basics/state_hash.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/room/examination.hpp"

using namespace redress;

namespace {

constexpr Tick kEnd = 20000;

act::ShowTarget target(TargetKind kind, double distance_m, double horizontal_deg,
                       std::int32_t travel_ms) {
  act::ShowTarget show;
  show.kind = kind;
  show.distance_m = distance_m;
  show.horizontal_deg = horizontal_deg;
  show.vertical_deg = -0.5 * horizontal_deg;
  show.travel_ms = travel_ms;
  return show;
}

act::HoldPrism prism(Eye eye, double power_pd, double base_deg, PrismMaterial material,
                     PrismHold held) {
  act::HoldPrism hold;
  hold.eye = eye;
  hold.power = PrismDioptres{power_pd};
  hold.base = Degrees{base_deg};
  hold.material = material;
  hold.held = held;
  return hold;
}

/// Covers, transfers, prisms of both materials, lenses, a head tilt, near and far, a moving target,
/// the occluder at an edge, and questions.
std::vector<Act> busy_acts() {
  act::HoldPrism second = prism(Eye::left, 5, 37.5, PrismMaterial::plastic, PrismHold::prentice);
  second.slot = 2;
  second.tilt = Degrees{3.5};
  return {
      {0, target(TargetKind::letters, 6.0, 0, 0)},
      {500, act::Cover{Eye::right, OccluderKind::opaque, Side::above, 250}},
      {2500, act::Cover{Eye::left, OccluderKind::opaque, Side::nasal, 180}},
      {3700, act::Uncover{Side::temporal, 220}},
      {5000, prism(Eye::right, 10, 0, PrismMaterial::glass, PrismHold::frontal)},
      {5600, act::Cover{Eye::left, OccluderKind::translucent, Side::temporal, 300}},
      {6600, second},
      {7100, act::Cover{Eye::right, OccluderKind::opaque, Side::below, 250}},
      {8000, act::Ask{"single_or_double"}},
      {8200, act::Uncover{Side::above, 250}},
      {8900, act::RemovePrism{Eye::right, {}}},
      {9000, target(TargetKind::picture, 0.4, 0, 400)},
      {9600, act::TrialLenses{{1.0, 1.0}}},
      {10500, act::Cover{Eye::right, OccluderKind::opaque, Side::above, 0}},
      {12000, act::Uncover{Side::above, 0}},
      {12300, act::TrialLenses{{-1.0, -0.5}}},
      {13000, act::TiltHead{12.5, -4.0, 3.0, 700}},
      {13500, act::RemovePrism{Eye::left, 2}},
      {14000, act::Instruct{Instruction::follow}},
      {14100, target(TargetKind::spot, 1.0, 14.0, 1500)},
      {15000, act::MoveOccluder{26.0, 3.0, -40.0, 15.0, 600}},
      {16200, act::MoveOccluder{45.0, 3.0, -40.0, 0.0, 300}},
      {16800, act::Uncover{Side::above, 250}},
      {17000, act::Penlight{true}},
      {17100, act::RoomLight{LightLevel::dim}},
      {17150, act::Magnify{75.0, Eye::left}},
      {17200, target(TargetKind::letter, 6.0, -11.0, 0)},
      {17500, act::Instruct{Instruction::look}},
      {18000, act::Cover{Eye::left, OccluderKind::opaque, Side::above, 250}},
      {19200, act::Uncover{Side::above, 250}},
  };
}

int examine(const char* path) {
  std::ifstream file(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  const Result<Case> the_case = read_case_text(text);
  const std::string_view whole(path);
  const std::string name(whole.substr(whole.rfind('/') + 1));
  if (!the_case) {
    for (const Problem& problem : the_case.problems()) {
      std::fprintf(stderr, "%s: %s: %s\n", path, problem.place.c_str(), problem.message.c_str());
    }
    return 1;
  }
  const std::vector<Act> acts = busy_acts();
  Chance chance;
  chance.seed = the_case.value().seed;
  Examination examination(setup_of(the_case.value()), chance, first_target(acts));
  std::size_t next = 0;
  while (examination.now() < kEnd) {
    for (; next < acts.size() && acts[next].at_ms <= examination.now(); ++next) {
      examination.apply(acts[next].content);
    }
    examination.step();
    if (examination.now() % 4000 == 0) {
      std::printf("%s %lld %s\n", name.c_str(), static_cast<long long>(examination.now()),
                  to_hex(examination.hash()).c_str());
    }
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  std::printf("arithmetic %s\n", to_hex(elementary::arithmetic_check()).c_str());
  int code = 0;
  for (int i = 1; i < argc; ++i) code |= examine(argv[i]);
  return code;
}
