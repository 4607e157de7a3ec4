// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Records written, read back, cut and altered. No examination is simulated here.
#include "sim/record/record_file.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "sim/basics/elementary.hpp"
#include "sim/basics/state_hash.hpp"
#include "sim/record/act_json.hpp"
#include "sim/record/record_writer.hpp"

using namespace redress;
using namespace redress::record;
using nlohmann::json;

namespace {

json small_case() {
  return {{"format", "redress-case"},
          {"version", 1},
          {"title", "A small case"},
          {"deviation", {{"distance_pd", -2.5}, {"near_pd", -8}}}};
}

std::vector<Act> small_acts() {
  Finding finding;
  finding.test = FindingTest::cover_test;
  finding.kind = FindingKind::phoria;
  finding.horizontal_pd = -4;
  return {{0, act::ShowTarget{}},
          {100, act::Cover{Eye::left, OccluderKind::opaque, Side::temporal, 0}},
          {100, act::Ask{"single_or_double"}},
          {620, act::Note{finding}}};
}

std::string write_small(std::size_t acts_wanted = 4) {
  std::ostringstream stream;
  RecordWriter writer(stream, make_header(small_case(), 7, 0.5));
  const std::vector<Act> acts = small_acts();
  writer.state(0, 0x0123456789abcdefULL);
  for (std::size_t i = 0; i < 3 && i < acts_wanted; ++i) writer.act(acts[i]);
  writer.state(250, 1);
  writer.reply({400, "single_or_double", "single", "I see one."});
  writer.state(500, 0xffffffffffffffffULL);
  if (acts_wanted > 3) writer.act(acts[3]);
  writer.end(700);
  REQUIRE_FALSE(writer.failed());
  return stream.str();
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line + "\n");
  return lines;
}

std::string join(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line;
  return text;
}

/// The same objects, chained anew: a record that somebody wrote by other means.
std::string chain_anew(const std::vector<std::string>& objects) {
  ChainText chain;
  std::string text;
  for (const std::string& object : objects) text += make_chained_line(object, chain) + "\n";
  return text;
}

/// The lines' objects without their chains.
std::vector<std::string> objects_of(const std::string& text) {
  std::vector<std::string> objects;
  for (std::string line : lines_of(text)) {
    line.pop_back();
    objects.push_back(std::string(find_chain(line)->body) + "}");
  }
  return objects;
}

std::string first_problem(const std::string& text) {
  const Result<Record> record = read_record(text);
  if (record.ok()) return "none";
  return record.problems().front().place + ": " + record.problems().front().message;
}

}  // namespace

TEST_CASE("a record comes back as it was written") {
  const std::string text = write_small();
  const Verdict verdict = verify(text);
  CHECK(verdict.message == "is whole and unaltered (10 lines)");
  CHECK(verdict.whole());
  const Result<Record> read = read_record(text);
  REQUIRE(read.ok());
  const Record& record = read.value();
  CHECK(record.header.engine == kEngineVersion);
  CHECK(record.header.arithmetic == to_hex(elementary::arithmetic_check()));
  CHECK(record.header.seed == 7);
  CHECK(record.header.noise == 0.5);
  CHECK(record.header.the_case == small_case());
  CHECK(record.header.case_hash == calc_case_hash(small_case()));
  CHECK(record.end == Tick{700});
  REQUIRE(record.acts.size() == 4);
  const std::vector<Act> acts = small_acts();
  for (std::size_t i = 0; i < acts.size(); ++i) {
    CHECK(format_act(record.acts[i]) == format_act(acts[i]));
  }
  REQUIRE(record.states.size() == 3);
  CHECK(record.states[0] == std::pair<Tick, std::uint64_t>{0, 0x0123456789abcdefULL});
  CHECK(record.states[2] == std::pair<Tick, std::uint64_t>{500, 0xffffffffffffffffULL});
  REQUIRE(record.replies.size() == 1);
  CHECK(record.replies[0] == Reply{400, "single_or_double", "single", "I see one."});
}

TEST_CASE("the lines of a record are those of the contract") {
  const std::string text = write_small();
  CHECK(text.starts_with("{\"format\":\"redress-record\",\"version\":1,\"engine\":\""));
  const std::vector<std::string> objects = objects_of(text);
  const json header = json::parse(objects[0]);
  std::set<std::string> keys;
  for (const auto& [key, value] : header.items()) keys.insert(key);
  CHECK(keys == std::set<std::string>{"format", "version", "engine", "arithmetic", "tick_ms",
                                      "seed", "noise", "case_hash", "case"});
  CHECK(header["tick_ms"] == 1);
  CHECK(objects[1] == R"({"at_ms":0,"state":"0123456789abcdef"})");
  CHECK(objects[3] ==
        R"({"seq":1,"at_ms":100,"act":"cover","eye":"left","occluder":"opaque",)"
        R"("from":"temporal","travel_ms":0})");
  CHECK(objects[6] == R"({"at_ms":400,"reply":{"to":"single_or_double","answer":"single",)"
                      R"("text":"I see one."}})");
  CHECK(objects[9] == R"({"at_ms":700,"end":true})");
}

TEST_CASE("every flipped bit of a record is noticed") {
  const std::string whole = write_small();
  std::size_t missed = 0;
  std::size_t misplaced = 0;
  std::size_t line = 1;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    for (int bit = 0; bit < 8; ++bit) {
      std::string text = whole;
      text[i] = static_cast<char>(static_cast<unsigned char>(text[i]) ^ (1U << bit));
      const Verdict verdict = verify(text);
      if (verdict.whole() || read_record(text).ok() || read_cut_record(text).ok()) ++missed;
      if (verdict.line != line) ++misplaced;
    }
    if (whole[i] == '\n') ++line;
  }
  CHECK(missed == 0);
  CHECK(misplaced == 0);
}

TEST_CASE("a record cut anywhere is refused, and the good lines before the cut are told") {
  const std::string whole = write_small();
  CHECK(verify("").wholeness == Wholeness::not_a_record);
  std::size_t good_lines = 0;
  std::size_t good_bytes = 0;
  for (std::size_t size = 1; size < whole.size(); ++size) {
    if (whole[size - 1] == '\n') {
      ++good_lines;
      good_bytes = size;
    }
    const std::string text = whole.substr(0, size);
    const Verdict verdict = verify(text);
    CAPTURE(size, verdict.message);
    REQUIRE(verdict.wholeness == Wholeness::cut_short);
    REQUIRE(verdict.good_lines == good_lines);
    REQUIRE(verdict.good_bytes == good_bytes);
    const bool between = good_bytes == size;
    REQUIRE(verdict.line == (between ? good_lines : good_lines + 1));
    REQUIRE(verdict.message.find(between ? "after line " : "in line ") != std::string::npos);
    REQUIRE_FALSE(read_record(text).ok());
    REQUIRE(read_cut_record(text).ok() == (good_lines > 0));
  }
}

TEST_CASE("lines swapped, doubled, taken out, put in or added are noticed at their place") {
  const std::vector<std::string> lines = lines_of(write_small());
  const auto place_of_fault = [](const std::vector<std::string>& altered) {
    const Verdict verdict = verify(join(altered));
    CHECK(verdict.wholeness == Wholeness::altered);
    return verdict.line;
  };
  for (std::size_t i = 1; i < lines.size(); ++i) {
    CAPTURE(i);
    std::vector<std::string> altered = lines;
    altered.insert(altered.begin() + static_cast<std::ptrdiff_t>(i), lines[i]);
    CHECK(place_of_fault(altered) == i + 2);
    if (i + 1 == lines.size()) continue;
    altered = lines;
    altered.erase(altered.begin() + static_cast<std::ptrdiff_t>(i));
    CHECK(place_of_fault(altered) == i + 1);
    altered = lines;
    std::swap(altered[i], altered[i + 1]);
    CHECK(place_of_fault(altered) == i + 1);
    altered = lines;
    altered.insert(altered.begin() + static_cast<std::ptrdiff_t>(i), "\n");
    CHECK(place_of_fault(altered) == i + 1);
  }
  for (const char* more : {"\n", " ", "x", "{}\n"}) {
    std::vector<std::string> altered = lines;
    altered.emplace_back(more);
    CHECK(place_of_fault(altered) == lines.size() + 1);
  }
  // The same words after another act fit nowhere else.
  const std::vector<std::string> other = lines_of(write_small(2));
  REQUIRE(objects_of(other[4])[0] == objects_of(lines[5])[0]);
  std::vector<std::string> altered = lines;
  altered[5] = other[4];
  CHECK(place_of_fault(altered) == 6);
}

TEST_CASE("what is no record, or a newer one, is told from what was altered") {
  CHECK(verify("hello\n").wholeness == Wholeness::not_a_record);
  CHECK(verify("{\"format\":\"redress-case\",\"version\":1}\n").wholeness ==
        Wholeness::not_a_record);
  CHECK(verify(std::string(1000, '\0')).wholeness == Wholeness::not_a_record);
  CHECK(verify(std::string(1000000, '[')).wholeness == Wholeness::not_a_record);
  CHECK(verify(chain_anew({"{\"format\":\"other\"}"})).wholeness == Wholeness::not_a_record);

  std::vector<std::string> objects = objects_of(write_small());
  json header = json::parse(objects[0]);
  header["version"] = 2;
  header["novelty"] = true;
  objects[0] = header.dump();
  const Verdict newer = verify(chain_anew(objects));
  CHECK(newer.wholeness == Wholeness::newer_version);
  CHECK(newer.message == "is of a newer version: 2; allowed: 1");
  CHECK(first_problem(chain_anew(objects)) == "line 1: is of a newer version: 2; allowed: 1");
  header["version"] = 0;
  objects[0] = header.dump();
  CHECK(verify(chain_anew(objects)).wholeness == Wholeness::not_a_record);
}

TEST_CASE("a well-chained record that says impossible things is refused with the place") {
  const std::vector<std::string> good = objects_of(write_small());
  const auto problem_with = [&](std::size_t line, const std::string& object) {
    std::vector<std::string> objects = good;
    objects[line - 1] = object;
    return first_problem(chain_anew(objects));
  };
  const auto header_with = [&](const char* key, const json& value) {
    json header = json::parse(good[0]);
    header[key] = value;
    return first_problem(chain_anew([&] {
      std::vector<std::string> objects = good;
      objects[0] = header.dump();
      return objects;
    }()));
  };
  CHECK(first_problem(chain_anew(good)) == "none");
  CHECK(header_with("seed", -1).starts_with("line 1 /seed: "));
  CHECK(header_with("seed", 9007199254740992.0).starts_with("line 1 /seed: "));
  CHECK(header_with("noise", 11).starts_with("line 1 /noise: "));
  CHECK(header_with("tick_ms", 2).starts_with("line 1 /tick_ms: "));
  CHECK(header_with("case", {{"title", "another"}}).starts_with("line 1 /case_hash: "));
  CHECK(header_with("colour", 1).starts_with("line 1 /colour: "));
  CHECK(problem_with(3, R"({"seq":4,"at_ms":0,"act":"uncover"})").starts_with("line 3 /seq: "));
  CHECK(problem_with(3, R"({"seq":0,"at_ms":0,"act":"jump"})").starts_with("line 3 /act: "));
  CHECK(problem_with(4, R"({"seq":1,"at_ms":200,"act":"uncover"})")
            .starts_with("line 5 /at_ms: is a step back"));
  CHECK(problem_with(6, R"({"at_ms":251,"state":"0000000000000001"})")
            .starts_with("line 6 /at_ms: "));
  CHECK(problem_with(6, R"({"at_ms":250,"state":"000000000000000G"})")
            .starts_with("line 6 /state: "));
  CHECK(problem_with(7, R"({"at_ms":400,"reply":{"to":"a","answer":"b"}})")
            .starts_with("line 7 /reply/text: "));
  CHECK(problem_with(7, R"({"at_ms":400,"thought":1})").starts_with("line 7: "));
  CHECK(problem_with(7, "[1}").starts_with("line 7: is not JSON"));
  CHECK(problem_with(10, R"({"at_ms":600,"end":true})").starts_with("line 10 /at_ms: "));
  CHECK(problem_with(10, R"({"at_ms":750,"end":true})").starts_with("line 10 /at_ms: "));
}

TEST_CASE("a record cut short goes on where its last whole line ends") {
  const std::string whole = write_small();
  const std::vector<std::string> lines = lines_of(whole);
  const std::string cut = join({lines.begin(), lines.begin() + 7}) + lines[7].substr(0, 9);
  const Result<CutRecord> read = read_cut_record(cut);
  REQUIRE(read.ok());
  CHECK(read.value().record.acts.size() == 3);
  CHECK_FALSE(read.value().record.end.has_value());
  std::ostringstream stream;
  stream << cut.substr(0, read.value().verdict.good_bytes);
  RecordWriter writer(stream, read.value().resumption);
  writer.state(500, 0xffffffffffffffffULL);
  writer.act(small_acts()[3]);
  writer.end(700);
  CHECK(stream.str() == whole);
}

TEST_CASE("a record that cannot be written says so and stays so") {
  std::ofstream full("/dev/full", std::ios::binary);
  REQUIRE(full.is_open());
  RecordWriter writer(full, make_header(small_case(), 1, 1));
  REQUIRE(writer.failed());
  CHECK(writer.problem()->place == "line 1");
  CHECK(writer.problem()->message.find("No space left on device") != std::string::npos);
  full.clear();
  writer.end(10);
  CHECK(writer.failed());
  CHECK(writer.problem()->place == "line 1");
}

TEST_CASE("an act that no reader would take is not recorded") {
  std::ostringstream stream;
  RecordWriter writer(stream, make_header(small_case(), 1, 1));
  const std::string before = stream.str();
  writer.act({0, act::TiltHead{500, 0, 0, 0}});
  REQUIRE(writer.failed());
  CHECK(writer.problem()->message.find("act 0 cannot be recorded") != std::string::npos);
  CHECK(stream.str() == before);
}

TEST_CASE("a strange byte in a remark does not end an examination") {
  std::ostringstream stream;
  RecordWriter writer(stream, make_header(small_case(), 1, 1));
  Finding finding;
  finding.remark = "a\xFF\nb";
  writer.state(0, 1);
  writer.act({0, act::Note{finding}});
  writer.end(0);
  REQUIRE_FALSE(writer.failed());
  const Result<Record> record = read_record(stream.str());
  REQUIRE(record.ok());
  CHECK(std::get<act::Note>(record.value().acts.front().content).finding.remark ==
        "a\xEF\xBF\xBD\nb");
}

TEST_CASE("the case hash looks at the case's values, not at the order of its keys") {
  CHECK(calc_case_hash(json::parse(R"({"a":1,"b":[2.5,null]})")) ==
        calc_case_hash(json::parse(R"({ "b": [2.50, null], "a": 1 })")));
  CHECK(calc_case_hash(json::parse(R"({"a":1})")) != calc_case_hash(json::parse(R"({"a":2})")));
}
