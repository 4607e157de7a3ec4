// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Acts to JSON and back, and what is said about acts that are wrong.
#include "sim/record/act_json.hpp"

#include <rapidcheck.h>
#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include "sim/basics/json_reader.hpp"
#include "sim/record/act_fields.hpp"

using namespace redress;
using namespace redress::record;
using nlohmann::json;

namespace {

/// Fills every field with values that are allowed, bounds and -0 among them; notes may be absent.
class Filler {
 public:
  template <class E, std::size_t N>
  void word(const char*, const NamedValue<E> (&names)[N], E& value, Need) {
    value = names[*rc::gen::inRange<std::size_t>(0, N)].value;
  }
  template <class E, std::size_t N>
  void word(const char*, const NamedValue<E> (&names)[N], std::optional<E>& value) {
    if (coin()) value = names[*rc::gen::inRange<std::size_t>(0, N)].value;
  }
  template <class E, std::size_t N>
  void word_text(const char*, const NamedValue<E> (&names)[N], std::string& value) {
    if (coin()) value = names[*rc::gen::inRange<std::size_t>(0, N)].name;
  }
  // In the order of the names, each at most once.
  template <class E, std::size_t N>
  void word_list(const char*, const NamedValue<E> (&names)[N], std::vector<E>& values) {
    for (const NamedValue<E>& each : names) {
      if (coin()) values.push_back(each.value);
    }
  }
  void number(const char*, Range range, double& value, Need) { value = within(range); }
  void number(const char*, Range range, std::optional<double>& value) {
    if (coin()) value = within(range);
  }
  void integer(const char*, std::int64_t low, std::int64_t high, std::int32_t& value, Need) {
    value = static_cast<std::int32_t>(*rc::gen::inRange(low, high + 1));
  }
  void integer(const char*, std::int64_t low, std::int64_t high,
               std::optional<std::int32_t>& value) {
    if (coin()) value = static_cast<std::int32_t>(*rc::gen::inRange(low, high + 1));
  }
  void boolean(const char*, bool& value, Need) { value = coin(); }
  void boolean(const char*, std::optional<bool>& value) {
    if (coin()) value = coin();
  }
  void text(const char*, std::size_t, std::string& value) {
    value = *rc::gen::container<std::string>(rc::gen::inRange<char>(1, 127));
  }
  void answer_key(const char*, std::string& value) {
    value = *rc::gen::nonEmpty(rc::gen::container<std::string>(
        rc::gen::elementOf(std::string("abcdefghijklmnopqrstuvwxyz0123456789_"))));
    value.resize(std::min<std::size_t>(value.size(), kLongestQuestion));
  }
  void base(Eye, double& degrees) {
    degrees = coin() ? 90.0 * *rc::gen::inRange(0, 4) : within(kBaseAnglesDeg);
  }
  void object(const char*, Finding& finding) { list_fields(*this, finding); }

 private:
  static bool coin() { return *rc::gen::arbitrary<bool>(); }
  static double within(Range range) {
    switch (*rc::gen::inRange(0, 4)) {
      case 0: return range.low;
      case 1: return range.high;
      case 2: return range.low < 0 ? -0.0 : range.low;
      default: break;
    }
    // All 53 bits, so that the shortest text has up to 17 digits.
    const auto bits = *rc::gen::inRange<std::int64_t>(0, std::int64_t{1} << 53);
    const double fraction = static_cast<double>(bits) / 9007199254740992.0;
    return range.low + fraction * (range.high - range.low);
  }
};

/// The same fields, flattened to words, doubles by their bits.
class Flattener {
 public:
  template <class E, std::size_t N>
  void word(const char* key, const NamedValue<E> (&)[N], E& value, Need) {
    put(key, std::to_string(static_cast<int>(value)));
  }
  template <class E, std::size_t N>
  void word(const char* key, const NamedValue<E> (&)[N], std::optional<E>& value) {
    put(key, value ? std::to_string(static_cast<int>(*value)) : "absent");
  }
  template <class E, std::size_t N>
  void word_text(const char* key, const NamedValue<E> (&)[N], std::string& value) {
    put(key, value);
  }
  template <class E, std::size_t N>
  void word_list(const char* key, const NamedValue<E> (&)[N], std::vector<E>& values) {
    std::string all;
    for (const E value : values) all += std::to_string(static_cast<int>(value)) + " ";
    put(key, all);
  }
  void number(const char* key, Range, double& value, Need) { put(key, bits_of(value)); }
  void number(const char* key, Range, std::optional<double>& value) {
    put(key, value ? bits_of(*value) : "absent");
  }
  void integer(const char* key, std::int64_t, std::int64_t, std::int32_t& value, Need) {
    put(key, std::to_string(value));
  }
  void integer(const char* key, std::int64_t, std::int64_t, std::optional<std::int32_t>& value) {
    put(key, value ? std::to_string(*value) : "absent");
  }
  void boolean(const char* key, bool& value, Need) { put(key, value ? "yes" : "no"); }
  void boolean(const char* key, std::optional<bool>& value) {
    put(key, value ? (*value ? "yes" : "no") : "absent");
  }
  void text(const char* key, std::size_t, std::string& value) { put(key, value); }
  void answer_key(const char* key, std::string& value) { put(key, value); }
  void base(Eye, double& degrees) { put("base", bits_of(degrees)); }
  void object(const char* key, Finding& finding) {
    put(key, "");
    list_fields(*this, finding);
  }

  std::vector<std::string> words;

 private:
  void put(const char* key, const std::string& value) {
    words.push_back(std::string(key) + "=" + value);
  }
  static std::string bits_of(double value) {
    return std::to_string(std::bit_cast<std::uint64_t>(value));
  }
};

std::vector<std::string> flatten(Act act) {
  Flattener flat;
  flat.words = {std::to_string(act.at_ms), std::to_string(act.content.index())};
  std::visit([&](auto& fields) { list_fields(flat, fields); }, act.content);
  return flat.words;
}

template <class Content>
void check_round_trip() {
  const bool holds = rc::check([] {
    Content content;
    Filler filler;
    list_fields(filler, content);
    const Act act{*rc::gen::inRange<Tick>(0, kLatestTick + 1), content};
    const Result<Act> direct = parse_act(to_json(act));
    RC_ASSERT(direct.ok());
    RC_ASSERT(flatten(direct.value()) == flatten(act));
    const Result<std::vector<Act>> through_text = parse_acts(format_act(act) + "\n");
    RC_ASSERT(through_text.ok());
    RC_ASSERT(through_text.value().size() == 1U);
    RC_ASSERT(flatten(through_text.value().front()) == flatten(act));
  });
  REQUIRE(holds);
}

/// The only problem of a list of acts, as "place: message".
std::string only_problem(const std::string& text) {
  const Result<std::vector<Act>> acts = parse_acts(text);
  if (acts.ok()) return "none";
  if (acts.problems().size() != 1) return std::to_string(acts.problems().size()) + " problems";
  return acts.problems().front().place + ": " + acts.problems().front().message;
}

Act read_one(const std::string& text) {
  const Result<std::vector<Act>> acts = parse_acts(text);
  INFO((acts.ok() ? std::string() : acts.problems().front().message));
  REQUIRE(acts.ok());
  REQUIRE(acts.value().size() == 1);
  return acts.value().front();
}

}  // namespace

TEMPLATE_TEST_CASE("every act comes back from JSON bit for bit", "", act::Cover, act::Uncover,
                   act::MoveOccluder, act::HoldPrism, act::RemovePrism, act::ShowTarget,
                   act::Spectacles, act::TrialLenses, act::TiltHead, act::Penlight, act::RoomLight,
                   act::Instruct, act::Ask, act::Request, act::MoveViewpoint, act::Magnify,
                   act::Note) {
  check_round_trip<TestType>();
}

TEST_CASE("the defaults are those of the contract") {
  const auto cover =
      std::get<act::Cover>(read_one(R"({"at_ms":1000,"act":"cover","eye":"left"})").content);
  CHECK(cover.eye == Eye::left);
  CHECK(cover.occluder == OccluderKind::opaque);
  CHECK(cover.from == Side::above);
  CHECK(cover.travel_ms == 250);

  const auto uncover = std::get<act::Uncover>(read_one(R"({"at_ms":0,"act":"uncover"})").content);
  CHECK(uncover.towards == Side::above);
  CHECK(uncover.travel_ms == 250);

  const auto move = std::get<act::MoveOccluder>(
      read_one(R"({"at_ms":0,"act":"move_occluder","x_mm":1,"y_mm":2,"z_mm":-3})").content);
  CHECK(move.roll_deg == 0.0);
  CHECK(move.travel_ms == 0);

  const auto prism = std::get<act::HoldPrism>(
      read_one(R"({"at_ms":0,"act":"hold_prism","eye":"right","power_pd":4,"base":"out"})")
          .content);
  CHECK(prism.material == PrismMaterial::plastic);
  CHECK(prism.held == PrismHold::frontal);
  CHECK(prism.tilt.value == 0.0);
  CHECK(prism.slot == 1);

  const auto remove = std::get<act::RemovePrism>(
      read_one(R"({"at_ms":0,"act":"remove_prism","eye":"right"})").content);
  CHECK_FALSE(remove.slot.has_value());
}

TEST_CASE("base words are ISO 8429 angles of that eye") {
  // ISO 8429: right eye 0 in, 90 up, 180 out; left eye 0 out.
  const auto base_of = [](const std::string& eye, const std::string& base) {
    const Act act = read_one(R"({"at_ms":0,"act":"hold_prism","power_pd":4,"eye":")" + eye +
                             R"(","base":")" + base + "\"}");
    CHECK(to_json(act)["base"] == base);
    return std::get<act::HoldPrism>(act.content).base.value;
  };
  CHECK(base_of("right", "in") == 0.0);
  CHECK(base_of("right", "up") == 90.0);
  CHECK(base_of("right", "out") == 180.0);
  CHECK(base_of("right", "down") == 270.0);
  CHECK(base_of("left", "out") == 0.0);
  CHECK(base_of("left", "up") == 90.0);
  CHECK(base_of("left", "in") == 180.0);
  CHECK(base_of("left", "down") == 270.0);
  const Act oblique =
      read_one(R"({"at_ms":0,"act":"hold_prism","power_pd":4,"eye":"left","base_deg":35.5})");
  CHECK(std::get<act::HoldPrism>(oblique.content).base.value == 35.5);
  CHECK(to_json(oblique)["base_deg"] == 35.5);
  CHECK_FALSE(to_json(oblique).contains("base"));
}

TEST_CASE("keys of a written act stand in reading order") {
  const Act act{1000, act::Cover{Eye::right, OccluderKind::translucent, Side::nasal, 0}};
  CHECK(format_act(act) == R"({"at_ms":1000,"act":"cover","eye":"right","occluder":"translucent",)"
                           R"("from":"nasal","travel_ms":0})");
}

TEST_CASE("the keys of a finding are the names of its fields") {
  Finding finding;
  finding.test = FindingTest::reserves;
  finding.distance_m = 0.4;
  finding.spectacles = true;
  finding.kind = FindingKind::none;
  finding.constancy = Constancy::intermittent;
  finding.eye = FindingEye::alternating;
  finding.horizontal_pd = -6;
  finding.vertical_pd = 1.5;
  finding.method = SizeMethod::measured;
  finding.recovery = RecoveryGrade::slow;
  finding.response = FourDioptreResponse::no_movement;
  finding.comitant = false;
  finding.break_value = 21;
  finding.recovery_value = 11;
  finding.blur_value = 17;
  finding.base = "out";
  finding.ac_a_pd_per_d = 4.5;
  finding.diagnosis = "exophoria";
  finding.advice = "none";
  finding.urgency = Urgency::same_day;
  finding.remark = "d\xC3\xA9j\xC3\xA0 vu";
  const json expected = {
      {"test", "reserves"},  {"distance_m", 0.4},           {"spectacles", true},
      {"kind", "none"},      {"constancy", "intermittent"}, {"eye", "alternating"},
      {"horizontal_pd", -6}, {"vertical_pd", 1.5},          {"method", "measured"},
      {"recovery", "slow"},  {"response", "no_movement"},   {"comitant", false},
      {"break_value", 21},   {"recovery_value", 11},        {"blur_value", 17},
      {"base", "out"},       {"ac_a_pd_per_d", 4.5},        {"diagnosis", "exophoria"},
      {"advice", "none"},    {"urgency", "same_day"},       {"remark", "d\xC3\xA9j\xC3\xA0 vu"}};
  CHECK(to_json(Act{0, act::Note{finding}})["finding"] == expected);
}

TEST_CASE("lists of acts: blank lines, CR LF, a missing last line end, an array") {
  const std::string first = R"({"at_ms":0,"act":"penlight","on":true})";
  const std::string second = R"({"at_ms":0,"act":"uncover"})";
  CHECK(parse_acts("").value().empty());
  CHECK(parse_acts(" \n\n").value().empty());
  CHECK(parse_acts("[]").value().empty());
  for (const std::string& text : {first + "\n" + second + "\n", "\n" + first + "\n \t\n" + second,
                                  first + "\r\n" + second, "[" + first + ",\n" + second + "]\n"}) {
    INFO(text);
    const Result<std::vector<Act>> acts = parse_acts(text);
    REQUIRE(acts.ok());
    REQUIRE(acts.value().size() == 2);
    CHECK(std::holds_alternative<act::Penlight>(acts.value()[0].content));
    CHECK(std::holds_alternative<act::Uncover>(acts.value()[1].content));
  }
}

TEST_CASE("each wrong act is answered with place, value and what is allowed") {
  struct Row {
    const char* text;
    const char* place;
    const char* value;    // what the message shows
    const char* allowed;  // a part of what it says is allowed
  };
  const Row row = GENERATE(values<Row>({
      {R"({"at_ms":-1,"act":"uncover"})", "line 1 /at_ms", "-1", "0 to 86400000"},
      {R"({"at_ms":1.5,"act":"uncover"})", "line 1 /at_ms", "1.5", "whole"},
      {R"({"at_ms":86400001,"act":"uncover"})", "line 1 /at_ms", "86400001", "86400000"},
      {R"({"at_ms":"0","act":"uncover"})", "line 1 /at_ms", "\"0\"", "number"},
      {R"({"act":"uncover"})", "line 1 /at_ms", "missing", "required"},
      {R"({"at_ms":0})", "line 1 /act", "missing", "cover, uncover, move_occluder"},
      {R"({"at_ms":0,"act":"Cover"})", "line 1 /act", "\"Cover\"", "magnify, note"},
      {R"({"at_ms":0,"act":7})", "line 1 /act", "7", "cover, uncover"},
      {R"([1])", "/0", "1", "an object"},
      {R"(3)", "line 1", "3", "an object"},
      {R"({"at_ms":0,"act":"cover"})", "line 1 /eye", "missing", "required"},
      {R"({"at_ms":0,"act":"cover","eye":"both"})", "line 1 /eye", "\"both\"", "right, left"},
      {R"({"at_ms":0,"act":"cover","eye":null})", "line 1 /eye", "null", "right, left"},
      {R"({"at_ms":0,"act":"note","finding":{"test":"plan","parts":["prism","wait"]}})",
       "line 1 /finding/parts/1", "\"wait\"", "no_treatment, refraction"},
      {R"({"at_ms":0,"act":"note","finding":{"test":"plan","parts":["prism","prism"]}})",
       "line 1 /finding/parts/1", "\"prism\"", "once"},
      {R"({"at_ms":0,"act":"note","finding":{"test":"plan","parts":"prism"}})",
       "line 1 /finding/parts", "\"prism\"", "array"},
      {R"({"at_ms":0,"act":"cover","eye":"left","occluder":"glass"})", "line 1 /occluder",
       "\"glass\"", "opaque, translucent"},
      {R"({"at_ms":0,"act":"cover","eye":"left","from":"left"})", "line 1 /from", "\"left\"",
       "above, below, temporal, nasal"},
      {R"({"at_ms":0,"act":"cover","eye":"left","travel_ms":60001})", "line 1 /travel_ms", "60001",
       "0 to 60000"},
      {R"({"at_ms":0,"act":"cover","eye":"left","travel_ms":-1})", "line 1 /travel_ms", "-1",
       "0 to 60000"},
      {R"({"at_ms":0,"act":"uncover","eye":"left"})", "line 1 /eye", "eye", "towards, travel_ms"},
      {R"({"at_ms":0,"act":"uncover","seq":1})", "line 1 /seq", "seq", "towards"},
      {R"({"at_ms":0,"act":"move_occluder","x_mm":0,"y_mm":0,"z_mm":2001})", "line 1 /z_mm", "2001",
       "-2000 to 2000"},
      {R"({"at_ms":0,"act":"move_occluder","x_mm":0,"y_mm":0})", "line 1 /z_mm", "missing",
       "required"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":0,"base":"in"})",
       "line 1 /power_pd", "0", "0.01 to 100"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":100.5,"base":"in"})",
       "line 1 /power_pd", "100.5", "0.01 to 100"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base":"left"})", "line 1 /base",
       "\"left\"", "in, out, up, down"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4})", "line 1 /base", "missing",
       "base_deg"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base":"in","base_deg":180})",
       "line 1 /base", "base_deg", "one of the two"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base":null})", "line 1 /base",
       "null", "a base"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base_deg":361})",
       "line 1 /base_deg", "361", "-360 to 360"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base":"in","slot":0})",
       "line 1 /slot", "0", "1 to 3"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base":"in","slot":4})",
       "line 1 /slot", "4", "1 to 3"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base":"in","material":"ice"})",
       "line 1 /material", "\"ice\"", "plastic, glass"},
      {R"({"at_ms":0,"act":"hold_prism","eye":"left","power_pd":4,"base":"in","held":"loose"})",
       "line 1 /held", "\"loose\"", "frontal, prentice, minimum"},
      {R"({"at_ms":0,"act":"show_target","kind":"letters","distance_m":0.049,"size_logmar":0})",
       "line 1 /distance_m", "0.049", "0.05 to 1000"},
      {R"({"at_ms":0,"act":"show_target","kind":"letters","distance_m":1001,"size_logmar":0})",
       "line 1 /distance_m", "1001", "0.05 to 1000"},
      {R"({"at_ms":0,"act":"show_target","kind":"letters","distance_m":6,"size_logmar":3.1})",
       "line 1 /size_logmar", "3.1", "-0.3 to 3"},
      {R"({"at_ms":0,"act":"show_target","kind":"word","distance_m":6,"size_logmar":0})",
       "line 1 /kind", "\"word\"", "letters, letter, picture, spot"},
      {R"({"at_ms":0,"act":"show_target","kind":"spot","distance_m":true,"size_logmar":0})",
       "line 1 /distance_m", "true", "a number"},
      {R"({"at_ms":0,"act":"spectacles","worn":1})", "line 1 /worn", "1", "true or false"},
      {R"({"at_ms":0,"act":"trial_lenses","right_d":20.25,"left_d":0})", "line 1 /right_d", "20.25",
       "-20 to 20"},
      {R"({"at_ms":0,"act":"trial_lenses","right_d":1})", "line 1 /left_d", "missing", "required"},
      {R"({"at_ms":0,"act":"tilt_head","roll_deg":61})", "line 1 /roll_deg", "61", "-60 to 60"},
      {R"({"at_ms":0,"act":"penlight"})", "line 1 /on", "missing", "required"},
      {R"({"at_ms":0,"act":"instruct","what":"sleep"})", "line 1 /what", "\"sleep\"",
       "look, keep_clear, follow, line_ends, hold_still, relax"},
      {R"({"at_ms":0,"act":"ask","what":""})", "line 1 /what", "\"\"", "a to z"},
      {R"({"at_ms":0,"act":"ask","what":"Clear?"})", "line 1 /what", "\"Clear?\"", "a to z"},
      {R"({"at_ms":0,"act":"request","what":5})", "line 1 /what", "5", "a string"},
      {R"({"at_ms":0,"act":"magnify","across_mm":9})", "line 1 /across_mm", "9", "10 to 1000"},
      {R"({"at_ms":0,"act":"magnify","across_mm":75,"eye":"both"})", "line 1 /eye", "\"both\"",
       "right, left"},
      {R"({"at_ms":0,"act":"move_viewpoint","x_mm":0,"y_mm":0,"z_mm":-10001})", "line 1 /z_mm",
       "-10001", "-10000 to 10000"},
      {R"({"at_ms":0,"act":"note"})", "line 1 /finding", "missing", "required"},
      {R"({"at_ms":0,"act":"note","finding":{}})", "line 1 /finding/test", "missing", "required"},
      {R"({"at_ms":0,"act":"note","finding":[]})", "line 1 /finding", "[]", "an object"},
      {R"({"at_ms":0,"act":"note","finding":{"test":"acuity"}})", "line 1 /finding/test",
       "\"acuity\"", "cover_test, prism_cover"},
      {R"({"at_ms":0,"act":"note","finding":{"test":"plan","size_pd":3}})",
       "line 1 /finding/size_pd", "size_pd", "horizontal_pd"},
      {R"({"at_ms":0,"act":"note","finding":{"test":"plan","urgency":"now"}})",
       "line 1 /finding/urgency", "\"now\"", "same_day, urgent, soon, routine"},
      {R"({"at_ms":0,"act":"note","finding":{"test":"reserves","base":"left"}})",
       "line 1 /finding/base", "\"left\"", "in, out, up, down"},
      {"{\"at_ms\":0,\"act\":\"uncover\"}\n{\"at_ms\":0,\"act\":\"uncover\"", "line 2", "column 27",
       "not JSON"},
      {"{\"at_ms\":0,\"at_ms\":1,\"act\":\"uncover\"}", "line 1 /at_ms", "column", "twice"},
      {R"({"at_ms":NaN,"act":"uncover"})", "line 1", "column", "not JSON"},
      {R"({"at_ms":0,"act":"tilt_head","roll_deg":1e999})", "line 1", "1e999", "not JSON"},
      {"{\"at_ms\":5,\"act\":\"uncover\"}\n\n{\"at_ms\":4,\"act\":\"uncover\"}", "line 3 /at_ms",
       "4", "5 or later"},
      {R"([{"at_ms":5,"act":"uncover"},{"at_ms":4,"act":"uncover"}])", "/1/at_ms", "4",
       "5 or later"},
      {R"([{"at_ms":5,"act":"uncover","towards":"up"}])", "/0/towards", "\"up\"", "above, below"},
      {R"([{"at_ms":5,"act":"uncover"})", "", "column", "not JSON"},
      {R"({"at_ms":0,"act":"uncover","x":[[[[[[[[[[]]]]]]]]]]})", "line 1", "column", "nested"},
  }));
  CAPTURE(row.text);
  const std::string problem = only_problem(row.text);
  CAPTURE(problem);
  CHECK(problem.substr(0, problem.find(": ")) == row.place);
  CHECK(problem.find(row.value) != std::string::npos);
  CHECK(problem.find(row.allowed) != std::string::npos);
}

TEST_CASE("all problems of a list are told") {
  const Result<std::vector<Act>> acts = parse_acts(
      "{\"at_ms\":0,\"act\":\"cover\",\"eye\":\"up\",\"travel_ms\":-3,\"speed\":1}\n"
      "what\n"
      "{\"at_ms\":0,\"act\":\"tilt_head\",\"roll_deg\":90,\"turn_deg\":90}\n");
  REQUIRE_FALSE(acts.ok());
  std::set<std::string> places;
  for (const Problem& problem : acts.problems()) places.insert(problem.place);
  CHECK(places == std::set<std::string>{"line 1 /eye", "line 1 /travel_ms", "line 1 /speed",
                                        "line 2", "line 3 /roll_deg", "line 3 /turn_deg"});
}

TEST_CASE("a list with thousands of problems is told to have more") {
  std::string text;
  for (int i = 0; i < 3000; ++i) text += "x\n";
  const Result<std::vector<Act>> acts = parse_acts(text);
  REQUIRE_FALSE(acts.ok());
  CHECK(acts.problems().size() == 1001);
  CHECK(acts.problems().back().message.find("2000 more problems") != std::string::npos);
}

TEST_CASE("a list of acts cut anywhere is refused or shorter, and never a crash") {
  const std::string text =
      "{\"at_ms\":0,\"act\":\"hold_prism\",\"eye\":\"left\",\"power_pd\":4,\"base\":\"in\"}\n"
      "{\"at_ms\":3,\"act\":\"note\",\"finding\":{\"test\":\"plan\",\"advice\":\"x\"}}\n";
  std::size_t accepted = 0;
  for (std::size_t size = 0; size <= text.size(); ++size) {
    accepted += parse_acts(text.substr(0, size)).ok() ? 1U : 0U;
  }
  // Nothing; the first line with and without its end; both with and without it.
  CHECK(accepted == 5);
}

TEST_CASE("an act made in memory is checked like one from a file") {
  CHECK(check_act({0, act::TiltHead{30, 0, 0, 0}}).empty());
  CHECK(check_act({0, act::TiltHead{75, 0, 0, 0}}).front().place == "/roll_deg");
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(check_act({0, act::MoveViewpoint{nan, 0, 0}}).front().place == "/x_mm");
  CHECK(check_act({-1, act::Uncover{}}).front().place == "/at_ms");
  Finding finding;
  finding.base = "sideways";
  CHECK(check_act({0, act::Note{finding}}).front().place == "/finding/base");
}
