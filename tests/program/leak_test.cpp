// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a candidate's account can find: every file that it may read, the environment and memory of
// the running program, and its own record, searched for the patient's truth and for keys; and how
// long a guesser of passphrases waits.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <sodium.h>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/file.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr const char* kPassphrase = "correct horse battery";

// The candidate's desk: a home of its own, and the assessor's folder beside it.
struct Room {
  tests::TemporaryFolder desk;
  tests::TemporaryFolder office;
  std::string account = ::geteuid() == 0 ? "runuser -u nobody -- " : "";
  std::string sealed = desk / "day.sealed";

  Room() {
    fs::permissions(desk.path(), fs::perms::all);
    if (!account.empty()) {
      (void)!std::system(("chown nobody '" + desk.path() + "'").c_str());
    }
    std::ofstream(office / "pass") << kPassphrase << "\n";
    json the_case = json::parse(read_file(support::scenario_path("right_esotropia")).value());
    the_case["title"] = "Zanzibar under the lamp";
    std::ofstream(office / "case.json") << the_case.dump();
    json circuit{{"format", "redress-circuit"},
                 {"version", 1},
                 {"title", "Quagga examination"},
                 {"pass", {{"standard", "fixed"}, {"mark", 50}, {"stations", 1}}},
                 {"stations",
                  {{{"name", "Hippogriff"},
                    {"case", "case.json"},
                    {"tasks", {"Find what there is."}},
                    {"time_s", 600}}}}};
    std::ofstream(office / "circuit.json") << circuit.dump();
  }

  [[nodiscard]] int run(const std::string& command) const {
    const int status = std::system((command + " >/dev/null 2>&1").c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  [[nodiscard]] std::string with_passphrase(const std::string& arguments) const {
    return support::program_path() + " " + arguments + " <'" + (office / "pass") + "'";
  }
};

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string base64(const std::string& text, std::size_t shift) {
  const std::string padded = std::string(shift, 'x') + text;
  std::string out(sodium_base64_encoded_len(padded.size(), sodium_base64_VARIANT_ORIGINAL), '\0');
  sodium_bin2base64(out.data(), out.size(), reinterpret_cast<const unsigned char*>(padded.data()),
                    padded.size(), sodium_base64_VARIANT_ORIGINAL);
  // The digits that its neighbours have no part in.
  return out.substr(shift == 0 ? 0 : 4, (text.size() / 3 - 2) * 4);
}

}  // namespace

TEST_CASE("a candidate's account finds neither truth nor key in files, environment or record") {
  const Room room;
  REQUIRE(room.run(room.with_passphrase("seal '" + (room.office / "circuit.json") + "' --out '" +
                                        room.sealed + "'")) == 0);
  const auto opened = assessment::open_circuit(bytes_of(room.sealed), kPassphrase);
  REQUIRE(opened.ok());
  const auto& keys = opened.value().keys;
  const std::string seed(keys.seed().text());
  std::vector<std::string> secrets{
      kPassphrase,    "Zanzibar",
      "Quagga",       "Hippogriff",
      "esotropia",    "deviation",
      "redress-case", "redress-record",
      "distance_pd",  "reserves",
      seed,           assessment::to_hex_text({keys.seed().data(), seed.size()})};
  for (const std::string& hidden : {std::string("Zanzibar under the lamp"), seed}) {
    for (std::size_t shift = 0; shift < 3; ++shift) secrets.push_back(base64(hidden, shift));
  }
  const auto find_in = [&](const std::string& where, const std::string& bytes) {
    for (std::size_t i = 0; i < secrets.size(); ++i) {
      INFO(where << ": secret " << i);
      CHECK(bytes.find(secrets[i]) == std::string::npos);
    }
  };
  // The search can find: the case itself has most of them.
  CHECK(bytes_of(room.office / "case.json").find(secrets[1]) != std::string::npos);
  CHECK(base64("Zanzibar under the lamp", 0).size() > 10);

  // The station is sat, and read while it goes on.
  const std::string station = room.desk / "0417-1.station";
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const std::string command =
        "exec env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME='" + room.desk.path() + "' TMPDIR='" +
        room.desk.path() + "' " + room.account + "sh -c 'echo $$ >" + (room.desk / "pid") +
        "; exec " + support::program_path() + " sit " + room.sealed +
        " --station 1 --candidate 0417 --workstation desk --out " + station + "' <'" +
        (room.office / "pass") + "' >" + (room.desk / "out") + " 2>&1";
    execl("/bin/sh", "sh", "-c", command.c_str(), nullptr);
    _exit(127);
  }
  for (int i = 0; i < 6000 && !fs::exists(station); ++i) usleep(10'000);
  REQUIRE(fs::exists(station));
  std::string pid = bytes_of(room.desk / "pid");
  pid.erase(pid.find_last_not_of('\n') + 1);
  // Held still, so that it cannot end while it is looked at.
  const bool held = ::kill(std::stoi(pid), SIGSTOP) == 0;
  for (const std::string name : {"environ", "cmdline", "mem", "maps"}) {
    const std::string copy = room.office / name;
    (void)room.run(room.account + "head -c 100000 /proc/" + pid + "/" + name + " >'" + copy +
                   "' 2>'" + (room.office / "why") + "'; true");
    const bool readable =
        room.run(room.account + "sh -c 'exec 3</proc/" + pid + "/" + name + "'") == 0;
    find_in(name, bytes_of(copy));
    INFO(name);
    if (name == "mem" && !room.account.empty()) CHECK_FALSE(readable);
  }
  if (held) {
    ::kill(std::stoi(pid), SIGCONT);
    ::kill(child, SIGCONT);  // runuser stops when what it runs does
  }
  int status = 0;
  waitpid(child, &status, 0);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);

  std::size_t files = 0;
  for (const auto& entry : fs::recursive_directory_iterator(room.desk.path())) {
    if (!entry.is_regular_file()) continue;
    ++files;
    find_in(entry.path().filename().string(), bytes_of(entry.path()));
  }
  CHECK(files == 4);  // the sealed circuit, the station, pid, out: nothing else was written
  CHECK(bytes_of(room.desk / "out").find("candidate 0417, station 1, kept") != std::string::npos);
}

TEST_CASE("wrong passphrases are slowed over runs as well, and the right one ends it") {
  const Room room;
  const std::string home = "HOME='" + room.desk.path() + "' XDG_STATE_HOME= ";
  REQUIRE(room.run(home + room.with_passphrase("seal '" + (room.office / "circuit.json") +
                                               "' --out '" + room.sealed + "'")) == 0);
  const auto count = [&] {
    std::string text;
    const fs::path folder = room.desk.path() + "/.local/state/redress";
    if (!fs::exists(folder)) return text;
    for (const auto& entry : fs::directory_iterator(folder)) text += bytes_of(entry.path());
    return text;
  };
  const std::string wrong = "echo 'a wrong passphrase' | " + home + support::program_path() +
                            " sealed '" + room.sealed + "'";
  CHECK(room.run(wrong) == 1);
  CHECK(count() == "1\n");
  CHECK(room.run(wrong) == 1);
  CHECK(count() == "2\n");  // what is waited before the next try: tests/assessment/sealed_circuit
  CHECK(room.run(home + room.with_passphrase("sealed '" + room.sealed + "'")) == 0);
  CHECK(count() == "0\n");
}
