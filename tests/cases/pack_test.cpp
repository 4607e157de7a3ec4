// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Packs: what goes in comes out byte for byte; a hostile one is refused with the reason.
#include <string>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sim/basics/file.hpp"
#include "sim/cases/pack.hpp"
#include "tests/support/places.hpp"

using namespace redress;

namespace {

Pack make_pack() {
  Pack pack{"First week", "Invented people.", {}};
  for (const std::string name : {"exophoria", "no_deviation"}) {
    pack.cases.push_back({name + ".json", read_file(support::scenario_path(name)).value(), {}});
  }
  return pack;
}

nlohmann::json make_json() { return nlohmann::json::parse(write_pack(make_pack()).value()); }

/// The place of the first problem; "none" if it is taken.
std::string refused_at(const nlohmann::json& json) {
  const auto read = read_pack(json.dump());
  return read.ok() ? "none" : read.problems().front().place;
}

}  // namespace

TEST_CASE("what goes into a pack comes out byte for byte") {
  const Pack pack = make_pack();
  const auto text = write_pack(pack);
  REQUIRE(text.ok());
  const auto read = read_pack(text.value());
  REQUIRE(read.ok());
  CHECK(read.value().title == "First week");
  CHECK(read.value().note == "Invented people.");
  REQUIRE(read.value().cases.size() == 2);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(read.value().cases[i].name == pack.cases[i].name);
    CHECK(read.value().cases[i].text == pack.cases[i].text);
    CHECK_FALSE(read.value().cases[i].content.title.empty());
  }
}

TEST_CASE("the checksum is BLAKE2b with 32 bytes") {
  // RFC 7693 defines the function; this value of the empty text with 32 bytes of output is from
  // memory of the reference implementation's table.
  CHECK(calc_checksum("") == "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
}

TEST_CASE("names that lead elsewhere, come twice, or are none are refused") {
  for (const char* name :
       {"../exophoria.json", "/etc/exophoria.json", "a/b.json", "..json", ".json", "a\\b.json",
        "con\u0000.json", "Exophoria.json", "exophoria.txt", "exophoria.json.exe", "-rf.json",
        "exöphoria.json", ""}) {
    INFO(name);
    nlohmann::json json = make_json();
    json["cases"][0]["name"] = name;
    CHECK(refused_at(json) == "/cases/0/name");
  }
  nlohmann::json twice = make_json();
  twice["cases"][1]["name"] = "exophoria.json";
  CHECK(refused_at(twice) == "/cases/1/name");
}

TEST_CASE("a wrong checksum, length, case or version is refused with its place") {
  CHECK(refused_at(make_json()) == "none");
  nlohmann::json json = make_json();
  std::string text = json["cases"][0]["text"];
  text[text.find("age_years")] = 'A';
  json["cases"][0]["text"] = text;
  CHECK(refused_at(json) == "/cases/0/checksum");
  json["cases"][0]["checksum"] = calc_checksum(text);
  CHECK(refused_at(json).starts_with("/cases/0/text"));
  json = make_json();
  json["cases"][1]["bytes"] = 3;
  CHECK(refused_at(json) == "/cases/1/bytes");
  json = make_json();
  json["version"] = 2;
  CHECK(refused_at(json) == "/version");
  json = make_json();
  json["format"] = "redress-case";
  CHECK(refused_at(json) == "/format");
  json = make_json();
  json["cases"] = nlohmann::json::array();
  CHECK(refused_at(json) == "/cases");
  json = make_json();
  json["cases"][0]["link"] = "/etc/passwd";
  CHECK(refused_at(json) == "/cases/0/link");
  CHECK_FALSE(read_pack("{").ok());
}

TEST_CASE("bombs are refused: deep, many, and keys that come again") {
  const std::string deep(200'000, '[');
  CHECK_FALSE(read_pack(deep).ok());
  CHECK_FALSE(read_pack(R"({"format":"redress-pack","cases":)" + deep).ok());
  // Inside a case's own text, where the pack's reader does not look.
  nlohmann::json json = make_json();
  const std::string text = R"({"format":"redress-case","version":1,"note":)" + deep;
  json["cases"][0]["text"] = text;
  json["cases"][0]["bytes"] = text.size();
  json["cases"][0]["checksum"] = calc_checksum(text);
  CHECK(refused_at(json).starts_with("/cases/0/text"));
  json = make_json();
  json["cases"] = nlohmann::json::array();
  for (std::size_t i = 0; i <= kMostPackedCases; ++i) json["cases"].push_back(0);
  CHECK(refused_at(json) == "/cases");
  CHECK_FALSE(read_pack(R"({"format":"redress-pack","format":"redress-pack"})").ok());
}

TEST_CASE("what cannot be packed is told by its file") {
  Pack pack = make_pack();
  pack.cases[0].name = "My case.json";
  pack.cases[1].text = "{}";
  const auto text = write_pack(pack);
  REQUIRE_FALSE(text.ok());
  CHECK(text.problems().front().place == "My case.json");
  CHECK(text.problems().back().place.starts_with("no_deviation.json"));
}
