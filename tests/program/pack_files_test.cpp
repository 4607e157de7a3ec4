// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cases put into a folder: all or none, nothing written over, nothing outside it.
#include <filesystem>
#include <fstream>
#include <string>

#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "sim/program/pack_files.hpp"
#include "tests/support/places.hpp"
#include "tests/support/read_only_folder.hpp"
#include "tests/support/small_files.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::program;
using redress::tests::ReadOnlyFolder;
using redress::tests::SmallFiles;
using redress::tests::TemporaryFolder;

namespace fs = std::filesystem;

namespace {

std::size_t count_files(const std::string& folder) {
  std::error_code error;
  std::size_t count = 0;
  for (const auto& entry : fs::directory_iterator(folder, error)) count += entry.exists() ? 1U : 0U;
  return count;
}

}  // namespace

TEST_CASE("cases are put into a folder, all or none") {
  const TemporaryFolder folder;
  const std::string cases = folder.path() + "/cases";
  CHECK(put_into_folder({{"a.json", "one"}, {"b.json", "two"}}, cases).empty());
  CHECK(read_file(cases + "/b.json").value() == "two");

  const Problems taken = put_into_folder({{"c.json", "three"}, {"b.json", "other"}}, cases);
  REQUIRE(taken.size() == 1);
  CHECK(taken[0].place == cases + "/b.json");
  CHECK(read_file(cases + "/b.json").value() == "two");
  CHECK_FALSE(fs::exists(cases + "/c.json"));

  // The disk is full in the middle: what was written before is taken back.
  {
    const SmallFiles full(10);
    const Problems problems =
        put_into_folder({{"c.json", "short"}, {"d.json", "far too long for it"}}, cases);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].place == cases + "/d.json");
  }
  CHECK(count_files(cases) == 2);
}

TEST_CASE("no name leads out of the folder, and no link is followed") {
  const TemporaryFolder folder;
  const std::string cases = folder.path() + "/cases";
  fs::create_directory(cases);
  fs::create_symlink(folder.path() + "/outside.json", cases + "/link.json");
  for (const std::string name : {"../outside.json", "/tmp/outside.json", "a/b.json", "link.json"}) {
    INFO(name);
    CHECK(put_into_folder({{"good.json", "x"}, {name, "x"}}, cases).size() == 1);
  }
  CHECK(put_into_folder({{"twice.json", "x"}, {"twice.json", "y"}}, cases).size() == 1);
  CHECK(count_files(folder.path()) == 1);
  CHECK_FALSE(fs::exists(cases + "/good.json"));
  // In the place of the folder there is a file.
  std::ofstream(folder.path() + "/file") << "here";
  CHECK(put_into_folder({{"a.json", "x"}}, folder.path() + "/file").size() == 1);
}

TEST_CASE("a folder that takes no file says so, and stays as it was") {
  const TemporaryFolder folder;
  fs::permissions(folder.path(), fs::perms::all);
  const std::string cases = folder.path() + "/cases";
  fs::create_directory(cases);
  std::ofstream(cases + "/mine.json") << "mine";
  {
    const ReadOnlyFolder read_only(cases);
    const Problems put = put_into_folder({{"a.json", "one"}, {"b.json", "two"}}, cases);
    REQUIRE(put.size() == 1);
    CHECK(put[0].place == cases + "/a.json");
    CHECK(put[0].message == "cannot be created: Permission denied; nothing was left there");
    const Problems below = put_into_folder({{"a.json", "one"}}, cases + "/deeper");
    REQUIRE(below.size() == 1);
    CHECK(below[0].message == "cannot be made a folder; nothing was written");
    const Problems packed =
        write_pack_of({support::scenario_path("exophoria")}, "Week", "", cases + "/pack.json");
    REQUIRE(packed.size() == 1);
    CHECK(packed[0].place == cases + "/pack.json");
    CHECK(packed[0].message == "cannot be created: Permission denied");
  }
  {
    // What cannot be looked into is not said to be there already.
    const ReadOnlyFolder closed(cases, false);
    const Problems put = put_into_folder({{"a.json", "one"}}, cases);
    REQUIRE(put.size() == 1);
    CHECK(put[0].message == "cannot be created: Permission denied; nothing was left there");
  }
  CHECK(count_files(cases) == 1);
  CHECK(read_file(cases + "/mine.json").value() == "mine");
}

TEST_CASE("a disk that is full keeps the pack that was there") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/pack.json";
  std::ofstream(path) << "before";
  {
    const SmallFiles full(100);
    const Problems packed = write_pack_of({support::scenario_path("exophoria")}, "Week", "", path);
    REQUIRE(packed.size() == 1);
    CHECK(packed[0].place == path);
    CHECK(packed[0].message.find("cannot be written") == 0);
  }
  CHECK(read_file(path).value() == "before");
  CHECK(count_files(folder.path()) == 1);
}

TEST_CASE("a pack larger than any is not read") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/huge.json";
  std::ofstream(path) << "{";
  fs::resize_file(path, kLargestPack + 1);  // a hole: it takes no room
  const auto read = load_pack(path);
  REQUIRE_FALSE(read.ok());
  CHECK(read.problems()[0].message.find("allowed") != std::string::npos);
}
