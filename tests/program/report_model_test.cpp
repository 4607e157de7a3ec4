// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The report as others call it: exit codes, and a page that appears whole or not at all.
#include <cstdlib>
#include <filesystem>
#include <string>

#include <sys/wait.h>
#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

namespace {

int call(const std::string& arguments, const std::string& out) {
  const std::string command =
      redress::support::program_path() + " " + arguments + " >" + out + " 2>&1 </dev/null";
  const int status = std::system(command.c_str());
  REQUIRE(WIFEXITED(status));
  return WEXITSTATUS(status);
}

std::string text_of(const std::string& path) {
  const auto text = redress::read_file(path);
  return text.ok() ? text.value() : std::string{};
}

}  // namespace

TEST_CASE("the report is a whole page or none") {
  const redress::tests::TemporaryFolder folder;
  const std::string page = folder / "model.html";
  const std::string out = folder / "out";
  REQUIRE(call("report --model " + page, out) == 0);
  CHECK(text_of(out).find(" rows: ") != std::string::npos);
  const std::string html = text_of(page);
  CHECK(html.rfind("<!DOCTYPE html>", 0) == 0);
  CHECK(html.substr(html.size() - 8) == "</html>\n");

  // Wrong usage, and nowhere to write.
  CHECK(call("report", out) == 2);
  CHECK(call("report --model", out) == 2);
  CHECK(call("report --model " + page + " --noise 1", out) == 2);
  const std::string nowhere = folder / "gone/model.html";
  CHECK(call("report --model " + nowhere, out) == 1);
  CHECK(text_of(out).find(nowhere) != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(nowhere));
  CHECK(call("report --model " + std::string{folder / ""}, out) == 1);
}
