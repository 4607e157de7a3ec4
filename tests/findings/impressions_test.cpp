// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The taxonomy of impressions: complete, searchable, and every shipped case can be named from it.
#include "sim/findings/impressions.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>

#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::findings;

namespace {

std::set<std::string> all_wordings() {
  std::set<std::string> all;
  for (const Impression& each : impressions()) {
    all.insert(write_impression(each, std::nullopt));
    for (const std::string_view side : words_of(each.sides)) {
      all.insert(write_impression(each, side));
    }
  }
  return all;
}

bool finds(std::string_view typed, std::string_view name) {
  const auto found = find_impressions(typed);
  return std::any_of(found.begin(), found.end(), [&](const auto* i) { return i->name == name; });
}

}  // namespace

TEST_CASE("impressions: every name once, every group filled, in order of the groups",
          "[findings]") {
  std::set<std::string_view> names;
  int group = 0;
  std::set<int> groups;
  for (const Impression& each : impressions()) {
    INFO(each.name);
    CHECK(names.insert(each.name).second);
    CHECK(static_cast<int>(each.group) >= group);
    group = static_cast<int>(each.group);
    groups.insert(group);
  }
  CHECK(groups.size() == static_cast<std::size_t>(kImpressionGroups));
}

TEST_CASE("impressions: what cannot wait is among them", "[findings]") {
  // Urgent entities of practice B16 and of the cases.
  for (const char* name :
       {"third nerve palsy", "fourth nerve palsy", "sixth nerve palsy", "giant cell arteritis",
        "myasthenia gravis", "thyroid eye disease", "internuclear ophthalmoplegia",
        "skew deviation", "raised intracranial pressure", "orbital floor fracture",
        "acute comitant esotropia", "convergence spasm", "Horner syndrome",
        "palsies of more than one nerve", "latent nystagmus", "infantile nystagmus",
        "no abnormality found"}) {
    INFO(name);
    CHECK(read_impression(name).impression != nullptr);
  }
}

TEST_CASE("impressions: found by a few letters, by another name, by the group", "[findings]") {
  CHECK(finds("sixth", "sixth nerve palsy"));
  CHECK(finds("six pal", "sixth nerve palsy"));
  CHECK(finds("pal six", "sixth nerve palsy"));
  CHECK(finds("abduc", "sixth nerve palsy"));
  CHECK(finds("right 6th", "sixth nerve palsy"));
  CHECK(finds("GCA", "giant cell arteritis"));
  CHECK(finds("INO", "internuclear ophthalmoplegia"));
  CHECK(finds("orbit", "thyroid eye disease"));
  CHECK(finds("superior oblique", "fourth nerve palsy"));
  CHECK_FALSE(finds("sixth", "fourth nerve palsy"));
  CHECK(find_impressions("").size() == impressions().size());
  CHECK(find_impressions("zzz").empty());
}

TEST_CASE("impressions: what is written is taken apart again", "[findings]") {
  for (const Impression& each : impressions()) {
    const ReadImpression plain = read_impression(write_impression(each, std::nullopt));
    CHECK(plain.impression == &each);
    CHECK_FALSE(plain.side);
    for (const std::string_view side : words_of(each.sides)) {
      const ReadImpression read = read_impression(write_impression(each, side));
      CHECK(read.impression == &each);
      CHECK(read.side == side);
    }
  }
  CHECK(read_impression("Left Sixth Nerve Palsy").side == "left");
  CHECK(read_impression("left exophoria").impression == nullptr);
  CHECK(read_impression("").impression == nullptr);
}

TEST_CASE("impressions: every shipped case can be named from the list", "[findings]") {
  const std::set<std::string> wordings = all_wordings();
  int cases = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(support::source_dir() + "/scenarios")) {
    if (entry.path().extension() != ".json") continue;
    const auto text = read_file(entry.path().string());
    REQUIRE(text.ok());
    const auto json = parse_json(text.value());
    REQUIRE(json.ok());
    if (!json.value().contains("expected")) continue;
    ++cases;
    const auto& expected = json.value()["expected"];
    bool found = wordings.contains(expected.value("diagnosis", ""));
    for (const auto& accepted : expected.value("accepted", std::vector<std::string>{})) {
      found = found || wordings.contains(accepted);
    }
    INFO(entry.path().filename().string() << ": " << expected.value("diagnosis", ""));
    CHECK(found);
  }
  CHECK(cases >= 50);
}
