// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The file of progress: what goes in comes out; damaged, foreign and newer files are refused and
// left as they are; a full disk loses nothing that was there.
#include <sqlite3.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "sim/basics/file.hpp"
#include "sim/progress/store.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::progress;
using redress::tests::TemporaryFolder;

namespace {

ExaminationEntry make_examination(std::int64_t at_s, const std::string& learner) {
  return {at_s,     learner, "exophoria", "/records/1.redress",
          "guided", false,   73.5,        {{"A1", 5, 5}, {"B2", 3, 6}, {"D1", 8, 8}}};
}

DrillEntry make_drill(std::int64_t at_s, const std::string& learner) {
  DrillEntry drill{at_s, learner, 77, 2.4, {1.6, 1.2, 2.1}, {}};
  drill.answers.push_back({{1.5, drill::Way::out, true}, {true, drill::Way::out, 2}});
  drill.answers.push_back({{9.25, drill::Way::down, false}, {true, drill::Way::up, 6}});
  return drill;
}

Store open(const std::string& path) {
  auto opened = Store::open(path);
  if (!opened) FAIL(opened.problems().front().message);
  return std::move(opened).value();
}

std::string refuse(const std::string& path) {
  const std::string before = read_file(path).value();
  const auto opened = Store::open(path);
  REQUIRE_FALSE(opened.ok());
  CHECK(read_file(path).value() == before);
  CHECK_FALSE(std::filesystem::exists(path + "-journal"));
  CHECK(opened.problems().size() == 1);
  CHECK(opened.problems().front().message.find("left untouched") != std::string::npos);
  return opened.problems().front().message;
}

void set_version(const std::string& path, int version) {
  sqlite3* file = nullptr;
  REQUIRE(sqlite3_open(path.c_str(), &file) == SQLITE_OK);
  const std::string sql = "PRAGMA user_version = " + std::to_string(version);
  CHECK(sqlite3_exec(file, sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK);
  sqlite3_close(file);
}

}  // namespace

TEST_CASE("progress: what was entered is there after opening again, for its learner alone") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/progress.sqlite";
  {
    Store store = open(path);
    CHECK_FALSE(store.add(make_examination(2000, "Wanda Ilves")));
    CHECK_FALSE(store.add(make_examination(1000, "Wanda Ilves")));
    CHECK_FALSE(store.add(make_examination(1500, "O'Brien; DROP TABLE mark")));
    CHECK_FALSE(store.add(make_drill(1200, "Wanda Ilves")));
  }
  const Store store = open(path);
  const History history = store.read("Wanda Ilves").value();
  REQUIRE(history.examinations.size() == 2);
  const ExaminationEntry& first = history.examinations[0];
  CHECK(first.at_s == 1000);  // in order of time
  CHECK(first.case_key == "exophoria");
  CHECK(first.record == "/records/1.redress");
  CHECK(first.mode == "guided");
  CHECK_FALSE(first.known);
  CHECK(first.total == 73.5);
  REQUIRE(first.marks.size() == 3);
  CHECK(first.marks[1].item == "B2");
  CHECK(first.marks[1].marks == 3);
  CHECK(first.marks[1].max == 6);
  REQUIRE(history.drills.size() == 1);
  const DrillEntry& drill = history.drills[0];
  CHECK(drill.seed == 77);
  CHECK(drill.magnification == 2.4);
  CHECK(drill.threshold.low == 1.2);
  REQUIRE(drill.answers.size() == 2);
  CHECK(drill.answers[1].shown.size_pd == 9.25);
  CHECK(drill.answers[1].shown.way == drill::Way::down);
  CHECK(drill.answers[1].answer.way == drill::Way::up);
  CHECK(drill.answers[1].answer.second);
  CHECK(store.read("O'Brien; DROP TABLE mark").value().examinations.size() == 1);
  CHECK(store.read("nobody").value().examinations.empty());
}

TEST_CASE("progress: an example or an examination makes a case known to that learner") {
  const TemporaryFolder folder;
  Store store = open(folder.path() + "/progress.sqlite");
  CHECK_FALSE(store.was_shown("Ida", "exophoria"));
  CHECK_FALSE(store.mark_shown("Ida", "exophoria"));
  CHECK_FALSE(store.mark_shown("Ida", "exophoria"));
  CHECK(store.was_shown("Ida", "exophoria"));
  CHECK_FALSE(store.was_shown("Ida", "orthophoria"));
  CHECK_FALSE(store.was_shown("Rolf", "exophoria"));
  CHECK_FALSE(store.add(make_examination(1, "Rolf")));
  CHECK(store.was_shown("Rolf", "exophoria"));
  // Never counted as the learner's own.
  CHECK(store.read("Ida").value().examinations.empty());
}

TEST_CASE("progress: what is damaged, foreign or newer is refused and left untouched") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/progress.sqlite";
  SECTION("not a database") {
    std::ofstream(path) << "This is a shopping list, quite a long one, with bread and butter.\n";
    CHECK(refuse(path).find("damaged, or no file of progress") != std::string::npos);
  }
  SECTION("another program's database") {
    sqlite3* file = nullptr;
    REQUIRE(sqlite3_open(path.c_str(), &file) == SQLITE_OK);
    sqlite3_exec(file, "CREATE TABLE recipe(name TEXT)", nullptr, nullptr, nullptr);
    sqlite3_close(file);
    CHECK(refuse(path).find("no file of progress") != std::string::npos);
  }
  SECTION("a newer version") {
    { (void)open(path); }
    set_version(path, kStoreVersion + 2);
    CHECK(refuse(path).find("newer version (3; this one reads 1)") != std::string::npos);
  }
  SECTION("cut short") {
    {
      Store store = open(path);
      for (int i = 0; i < 50; ++i) CHECK_FALSE(store.add(make_examination(i, "Ida")));
    }
    std::filesystem::resize_file(path, std::filesystem::file_size(path) / 2);
    CHECK(refuse(path).find("damaged") != std::string::npos);
  }
  SECTION("bytes overwritten in the middle") {
    {
      Store store = open(path);
      for (int i = 0; i < 50; ++i) CHECK_FALSE(store.add(make_examination(i, "Ida")));
    }
    std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(4096);
    for (int i = 0; i < 4096; ++i) file.put('x');
    file.close();
    CHECK(refuse(path).find("damaged") != std::string::npos);
  }
  SECTION("a folder") {
    std::filesystem::create_directory(path);
    CHECK_FALSE(Store::open(path).ok());
    CHECK(std::filesystem::is_directory(path));
  }
}

TEST_CASE("progress: a full disk loses nothing, and what did not go in goes in later") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/progress.sqlite";
  Store store = open(path);
  CHECK_FALSE(store.add(make_examination(1, "Ida")));
  store.limit_pages(1);
  std::optional<Problem> problem;
  std::int64_t at_s = 2;
  for (; at_s < 1000 && !problem; ++at_s) problem = store.add(make_examination(at_s, "Ida"));
  REQUIRE(problem);
  CHECK(problem->message.find("Disk full") == 0);
  const std::size_t there = store.read("Ida").value().examinations.size();
  CHECK(there == static_cast<std::size_t>(at_s) - 2);  // all but the last, and that not in part
  store.limit_pages(100000);
  CHECK_FALSE(store.add(make_examination(at_s, "Ida")));
  const History history = store.read("Ida").value();
  CHECK(history.examinations.size() == there + 1);
  for (const ExaminationEntry& each : history.examinations) CHECK(each.marks.size() == 3);
}

TEST_CASE("progress: a writer that was cut off in the middle leaves what was there before") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/progress.sqlite";
  {
    Store store = open(path);
    CHECK_FALSE(store.add(make_examination(1, "Ida")));
  }
  // As after a crash: file and journal of an open transaction, copied while it is open.
  const std::string copy = folder.path() + "/copy.sqlite";
  sqlite3* file = nullptr;
  REQUIRE(sqlite3_open(path.c_str(), &file) == SQLITE_OK);
  sqlite3_exec(file, "PRAGMA cache_size = 1; PRAGMA cache_spill = 1; BEGIN", nullptr, nullptr,
               nullptr);
  for (int i = 0; i < 400; ++i) {
    sqlite3_exec(file,
                 "INSERT INTO examination VALUES(NULL, 5, 'Ida', 'a case with a long name', "
                 "'a record with a long name', 'free', 0, 1)",
                 nullptr, nullptr, nullptr);
  }
  REQUIRE(std::filesystem::exists(path + "-journal"));
  std::filesystem::copy_file(path, copy);
  std::filesystem::copy_file(path + "-journal", copy + "-journal");
  sqlite3_exec(file, "ROLLBACK", nullptr, nullptr, nullptr);
  sqlite3_close(file);
  CHECK(open(copy).read("Ida").value().examinations.size() == 1);
}
