// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A case while it is written: load and save are byte for byte, each change has a name and is taken
// back, and nothing that was unwritten gets written by the way.
#include <filesystem>
#include <string>

#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/draft.hpp"
#include "tests/support/places.hpp"

using namespace redress;

namespace {

CaseDraft read_shipped(const std::string& name) {
  const auto text = read_file(support::scenario_path(name));
  REQUIRE(text.ok());
  auto draft = CaseDraft::read(text.value());
  REQUIRE(draft.ok());
  return std::move(draft).value();
}

}  // namespace

TEST_CASE("every shipped case is loaded and saved byte for byte, and stands in the usual layout") {
  std::size_t cases = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(support::source_dir() + "/scenarios")) {
    const std::string path = entry.path().string();
    if (!entry.is_regular_file() || path.ends_with("schema.json")) continue;
    INFO(path);
    const auto text = read_file(path);
    REQUIRE(text.ok());
    const auto draft = CaseDraft::read(text.value());
    REQUIRE(draft.ok());
    CHECK(draft.value().text() == text.value());
    // So that a change of one value changes one line.
    CHECK(write_case_document(draft.value().document()) == text.value());
    ++cases;
  }
  CHECK(cases >= 50);
}

TEST_CASE("a change of one value changes one line of the file, and undo gives back every byte") {
  CaseDraft draft = read_shipped("exophoria");
  const std::string before = draft.text();
  draft.set("/deviation/near_pd", -10, "near −10");
  CHECK(draft.is_changed());
  CHECK(draft.content().value().deviation.near.value == -10.0);
  const std::string after = draft.text();
  std::size_t lines = 0;
  for (std::size_t a = 0, b = 0; a < before.size() && b < after.size();) {
    const std::size_t a_end = before.find('\n', a);
    const std::size_t b_end = after.find('\n', b);
    if (before.substr(a, a_end - a) != after.substr(b, b_end - b)) ++lines;
    a = a_end + 1;
    b = b_end + 1;
  }
  CHECK(lines == 1);
  CHECK(draft.undo_name() == "near −10");
  draft.undo();
  CHECK(draft.text() == before);
  CHECK_FALSE(draft.is_changed());
  CHECK(draft.undo_name().empty());
  CHECK(draft.redo_name() == "near −10");
  draft.redo();
  CHECK(draft.text() == after);
}

TEST_CASE("typing at one place is one change, and another place or a pause ends it") {
  CaseDraft draft = CaseDraft::begin("new");
  draft.set("/patient/age_years", 3, "age");
  draft.set("/patient/age_years", 35, "age");
  draft.set("/deviation/distance_pd", 2, "at 6 m");
  draft.settle();
  draft.set("/deviation/distance_pd", 4, "at 6 m");
  draft.undo();
  CHECK(*draft.find("/deviation/distance_pd") == 2);
  draft.undo();
  CHECK(*draft.find("/patient/age_years") == 35);
  draft.undo();
  CHECK(draft.find("/patient") == nullptr);
  draft.redo();
  draft.set("/deviation/near_pd", 1, "near");  // what was taken back and not done again is gone
  CHECK(draft.redo_name().empty());
}

TEST_CASE("a cleared value is the default again and leaves no empty object behind") {
  CaseDraft draft = CaseDraft::begin("new");
  const std::string before = write_case_document(draft.document());
  CHECK(draft.value_in_force("/muscles/right/lateral_rectus/strength") == 1.0);
  draft.set("/muscles/right/lateral_rectus/strength", 0.5, "strength 0.5");
  CHECK(draft.value_in_force("/muscles/right/lateral_rectus/strength") == 0.5);
  draft.clear("/muscles/right/lateral_rectus/strength", "healthy");
  CHECK(write_case_document(draft.document()) == before);
  draft.clear("/muscles/right/lateral_rectus/strength", "healthy");
  CHECK(draft.undo_name() == "healthy");
}

TEST_CASE("a list grows by its next row, and a row that is emptied goes") {
  CaseDraft draft = CaseDraft::begin("new");
  const std::string before = write_case_document(draft.document());
  draft.set("/teaching/look_alikes/0/name", "a blink", "name");
  draft.set("/teaching/look_alikes/0/sign", "both eyes go down", "sign");
  draft.set("/teaching/look_alikes/5/name", "a squint", "name");  // beyond the end: the next
  REQUIRE(draft.content().ok());
  const auto& rows = draft.content().value().teaching.look_alikes;
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].sign == "both eyes go down");
  CHECK(rows[1].name == "a squint");
  CHECK(draft.value_in_force("/teaching/look_alikes/1/name") == "a squint");
  draft.clear("/teaching/look_alikes/0/name", "name");
  CHECK(draft.content().value().teaching.look_alikes.size() == 2);  // its sign is still there
  draft.clear("/teaching/look_alikes/0/sign", "sign");
  REQUIRE(draft.content().value().teaching.look_alikes.size() == 1);
  CHECK(draft.content().value().teaching.look_alikes[0].name == "a squint");
  draft.clear("/teaching/look_alikes/0/name", "name");
  CHECK(write_case_document(draft.document()) == before);
  draft.undo();
  CHECK(draft.content().value().teaching.look_alikes.size() == 1);
}

TEST_CASE("another document is taken as one change, and what was there comes back") {
  CaseDraft draft = read_shipped("exophoria");
  const std::string before = draft.text();
  draft.take(read_shipped("microtropia").document(), "the file on disk");
  CHECK(draft.undo_name() == "the file on disk");
  CHECK(draft.content().value().title == read_shipped("microtropia").content().value().title);
  draft.undo();
  CHECK(draft.text() == before);
}

TEST_CASE("what is wrong stays in the draft and is told with its place") {
  CaseDraft draft = CaseDraft::begin("new");
  draft.set("/patient/age_years", 400, "age 400");
  REQUIRE_FALSE(draft.content().ok());
  CHECK(draft.content().problems().front().place == "/patient/age_years");
  CHECK(*draft.find("/patient/age_years") == 400);
  draft.undo();
  CHECK(draft.content().ok());
}

TEST_CASE("what is no case, or a newer one, is refused with the place") {
  const auto place_of = [](std::string_view text) {
    const auto draft = CaseDraft::read(text);
    return draft.ok() ? "accepted" : draft.problems().front().place;
  };
  CHECK(place_of("[1]") == "");
  CHECK(place_of(R"({"format": "redress-record"})") == "/format");
  CHECK(place_of(R"({"format": "redress-case", "version": 2})") == "/version");
  CHECK(place_of(R"({"format": "redress-case", "version": 1, "version": 1})") != "accepted");
  CHECK(place_of("{") != "accepted");
}
