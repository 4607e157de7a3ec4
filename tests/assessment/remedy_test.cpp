// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The remedies that a program can carry out do away with what was wrong, and change nothing else.
#include <catch2/catch.hpp>

#include <string>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/remedy.hpp"
#include "tests/assessment/circuit_texts.hpp"

using namespace redress;
using namespace redress::assessment;

namespace {

Circuit small() { return parse_circuit(testing::small_circuit()).value(); }

CircuitCheck check_of(const Circuit& circuit, Tick slowest_ms) {
  StationCheck one;
  one.station = 0;
  FormCheck form;
  form.reference_marks = 99;
  form.reference_ms = slowest_ms;
  form.not_allowed = {Instrument::horizontal_bar};
  one.forms = {form};
  StationCheck three;
  three.station = 2;
  FormCheck easy;
  easy.seed = 3;
  easy.reference_marks = 99;
  easy.mean_marks = 80;
  FormCheck hard = easy;
  hard.seed = 4;
  hard.mean_marks = 60;
  three.forms = {easy, hard};
  return check_circuit(circuit, {one, three},
                       {{0, "exophoria", Urgency::routine, true}, {2, "esophoria", {}, false}});
}

const Concern& find(const CircuitCheck& check, const std::string& place) {
  for (const Concern& concern : check.concerns) {
    if (concern.place == place) return concern;
  }
  throw std::runtime_error("no concern about " + place);
}

}  // namespace

TEST_CASE("remedy: time, instruments, safety and parallel forms are mended by themselves",
          "[assessment]") {
  const Circuit circuit = small();
  const CircuitCheck check = check_of(circuit, 640'000);
  const auto longer = apply_remedy(circuit, check, find(check, "/stations/0/time_s"));
  REQUIRE(longer);
  CHECK(longer->stations[0].time_s == 720);  // 640 s are 90 % of 711 s; whole minutes
  const auto more = apply_remedy(circuit, check, find(check, "/stations/0/instruments"));
  REQUIRE(more);
  CHECK(more->stations[0].instruments.back() == Instrument::horizontal_bar);
  const auto safe = apply_remedy(circuit, check, find(check, "/stations/0/safety"));
  REQUIRE(safe);
  CHECK(safe->stations[0].safety);
  const auto one_form = apply_remedy(circuit, check, find(check, "/stations/2/seeds"));
  REQUIRE(one_form);
  CHECK(one_form->stations[2].seeds.size() == 1);
  // Nothing else has changed.
  Circuit back = *longer;
  back.stations[0].time_s = circuit.stations[0].time_s;
  CHECK(back == circuit);
}

TEST_CASE("remedy: what needs a person is left to one", "[assessment]") {
  const Circuit circuit = small();
  const CircuitCheck check = check_of(circuit, 100'000);
  const Concern& urgency = find(check, "/stations/2");
  CHECK(find_station(urgency) == 2);
  CHECK_FALSE(apply_remedy(circuit, check, urgency).has_value());
  CHECK_FALSE(apply_remedy(circuit, check, {"/pass", true, "", ""}).has_value());
  CHECK_FALSE(apply_remedy(circuit, check, {"/stations/9/time_s", true, "", ""}).has_value());
}
