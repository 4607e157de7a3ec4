// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Files appear whole or not at all, and whatever goes wrong is told.
#include "sim/basics/file.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "tests/support/temporary_folder.hpp"

using namespace redress;
using redress::tests::TemporaryFolder;
namespace fs = std::filesystem;

TEST_CASE("a file comes back byte for byte") {
  const TemporaryFolder folder;
  std::string bytes = "a\r\n\0b";
  bytes.push_back('\0');
  for (int i = 0; i < 200000; ++i) bytes.push_back(static_cast<char>(i * 37));
  REQUIRE_FALSE(write_whole_file(folder / "a", bytes).has_value());
  REQUIRE(read_file(folder / "a").ok());
  CHECK(read_file(folder / "a").value() == bytes);
  CHECK(folder.count() == 1);
  REQUIRE_FALSE(write_whole_file(folder / "a", "").has_value());
  CHECK(read_file(folder / "a").value().empty());
}

TEST_CASE("a file appears on commit only, and an abandoned one leaves nothing") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(write_whole_file(folder / "a", "old").has_value());
  {
    WholeFile file(folder / "a");
    file.write("new");
    CHECK(read_file(folder / "a").value() == "old");
  }
  CHECK(read_file(folder / "a").value() == "old");
  CHECK(folder.count() == 1);
  WholeFile file(folder / "a");
  file.write("n");
  file.write("ew");
  CHECK_FALSE(file.commit().has_value());
  CHECK(read_file(folder / "a").value() == "new");
  CHECK(folder.count() == 1);
  CHECK(file.commit().has_value());  // there is no second time
}

TEST_CASE("a link stays a link and its target is replaced, with its rights") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(write_whole_file(folder / "a", "old").has_value());
  fs::permissions(folder / "a", fs::perms::owner_read | fs::perms::owner_write);
  fs::create_symlink("a", folder / "link");
  REQUIRE_FALSE(write_whole_file(folder / "link", "new").has_value());
  CHECK(fs::is_symlink(folder / "link"));
  CHECK(read_file(folder / "a").value() == "new");
  CHECK(fs::status(folder / "a").permissions() == (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("what cannot be written is told, and nothing is left") {
  const TemporaryFolder folder;
  const auto no_folder = write_whole_file(folder / "none/a", "x");
  REQUIRE(no_folder.has_value());
  CHECK(no_folder->message == "cannot be created: No such file or directory");
  const auto a_folder = write_whole_file(folder.path(), "x");
  REQUIRE(a_folder.has_value());
  CHECK(a_folder->message == "cannot be written: Is a directory");
  const auto full = write_whole_file("/dev/full", "x");
  REQUIRE(full.has_value());
  CHECK(full->message == "cannot be written: No space left on device");
  CHECK(fs::is_character_file("/dev/full"));
  CHECK(folder.count() == 0);
  CHECK_FALSE(write_whole_file("/dev/null", "x").has_value());
}

TEST_CASE("what cannot be read is told") {
  const TemporaryFolder folder;
  const auto message_of = [](const Result<std::string>& text) {
    return text.ok() ? "none" : text.problems().front().message;
  };
  CHECK(message_of(read_file(folder / "none")) == "cannot be opened: No such file or directory");
  CHECK(message_of(read_file(folder.path())) == "cannot be read: Is a directory");
  REQUIRE_FALSE(write_whole_file(folder / "a", "12345").has_value());
  CHECK(read_file(folder / "a", 5).ok());
  CHECK(message_of(read_file(folder / "a", 4)) == "has more bytes than the 4 that are allowed");
  CHECK(message_of(read_file("/dev/zero", 100000)) ==
        "has more bytes than the 100000 that are allowed");
}
