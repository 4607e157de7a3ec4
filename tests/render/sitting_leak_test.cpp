// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a candidate's account can find of a station that is sat in the window: every file that it
// may read (home, temporary files, where the program was started, the circuit, what is kept), the
// running program's environment, command line and memory, all that it says and shows, and what a
// crash leaves, searched for the patient's truth, marks and keys, while the station goes on and
// when it is over.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/render/sitting_on_screen.hpp"

using namespace redress;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// The candidate's desk, the assessor's folder, and the hand that plays (its script has the
/// passphrase in it, as a hand would have it in mind).
struct Room {
  tests::TemporaryFolder desk;
  tests::TemporaryFolder office;
  tests::TemporaryFolder hand;
  std::string account = ::geteuid() == 0 ? "runuser -u nobody -- " : "";
  std::string sealed = desk / "day.sealed";
  std::vector<std::string> secrets;

  Room() {
    fs::copy(test::seal_small_circuit(office.path(), {}), sealed);
    fs::permissions(desk.path(), fs::perms::all);
    fs::permissions(hand.path(), fs::perms::all);
    if (!account.empty()) {
      (void)!std::system(("chown -R nobody '" + desk.path() + "'").c_str());
    }
    const auto opened = assessment::open_circuit(bytes_of(sealed), test::kSittingPassphrase);
    const auto& keys = opened.value().keys;
    const std::string seed(keys.seed().text());
    secrets = {test::kSittingPassphrase,
               seed,
               assessment::to_hex_text({keys.seed().data(), seed.size()}),
               "redress-case",
               "redress-record",
               "distance_pd",
               "\"deviation\"",
               "reserves",
               "exophoria.json",
               "right_esotropia",
               "Held straight",
               "Turned in",
               "of 100"};
    for (const assessment::Form& form : {opened.value().forms[0][0], opened.value().forms[2][0]}) {
      secrets.push_back(form.written.at("title").get<std::string>());
    }
  }

  void find_in(const std::string& where, const std::string& bytes) const {
    for (std::size_t i = 0; i < secrets.size(); ++i) {
      INFO(where << ": secret " << i);
      CHECK(bytes.find(secrets[i]) == std::string::npos);
    }
  }
  /// Whether the account can read it.
  [[nodiscard]] bool reads(const std::string& path) const {
    return std::system((account + "sh -c 'exec 3<" + path + "' 2>/dev/null").c_str()) == 0;
  }
  void search_desk() const {
    std::size_t files = 0;
    for (const auto& entry : fs::recursive_directory_iterator(desk.path())) {
      CHECK_FALSE(entry.path().filename().string().starts_with("core"));
      if (!entry.is_regular_file()) continue;
      ++files;
      find_in(entry.path().string(), bytes_of(entry.path()));
    }
    CHECK(files >= 3);  // the sealed circuit, what was kept, what was said
  }

  /// Sits down as the candidate's account, by the script; returns who waits for it.
  [[nodiscard]] pid_t sit(const std::string& script, const std::string& more) const {
    std::ofstream(hand / "script") << script;
    const std::string program =
        "echo $$ >pid; exec " + support::program_path() + " --sit " + sealed +
        " --workstation desk --own-folder " + (desk / "own") + " --kept " + (desk / "kept") +
        " --width 1280 --height 720 --seed 3 --step-ms 100 --card-folded --parts-file " +
        (desk / "shown") + " --script " + (hand / "script") + more;
    const std::string command =
        "cd '" + desk.path() +
        "'; exec env -i PATH=" + "/usr/sbin:/usr/bin:/sbin:/bin SDL_VIDEODRIVER=offscreen HOME='" +
        desk.path() + "' TMPDIR='" + desk.path() + "' " + account + "sh -c 'ulimit -c unlimited; " +
        program + "' >>said 2>&1";
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      execl("/bin/sh", "sh", "-c", command.c_str(), nullptr);
      _exit(127);
    }
    return child;
  }
  [[nodiscard]] pid_t wait_for_pid() const {
    std::string pid;
    for (int i = 0; i < 6000 && !pid.ends_with("\n"); ++i) {
      usleep(10'000);
      pid = bytes_of(desk / "pid");
    }
    REQUIRE(pid.ends_with("\n"));
    return std::stoi(pid);
  }
};

int wait_for(pid_t child) {
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

const std::string kOpen =
    std::string("300 click passphrase\n500 type ") + test::kSittingPassphrase + "\n700 key Enter\n";
const std::string kWriteAndHandIn =
    "key N\n+400 click Impression and plan\n+400 click Finish and hand in\n";

/// "+400 key A": so much after the line before.
std::string in_time(const std::string& lines) {
  std::string text;
  int now = 0;
  std::istringstream all(lines);
  for (std::string line; std::getline(all, line);) {
    const std::size_t space = line.find(' ');
    const bool after = line[0] == '+';
    now = (after ? now : 0) + std::stoi(line.substr(after ? 1 : 0, space));
    text += std::to_string(now) + line.substr(space) + "\n";
  }
  return text;
}

}  // namespace

TEST_CASE("a candidate's account finds nothing of a station that is sat in the window", "[leak]") {
  const Room room;
  // The search can find: what is sealed has all of it.
  CHECK(bytes_of(support::scenario_path("exophoria")).find("distance_pd") != std::string::npos);

  const std::string first =
      kOpen +
      "+600 click Ready for the candidate\n+600 click desk/candidate\n+300 type 0417\n"
      "+300 click Begin the practice minute\n+900 " +
      kWriteAndHandIn +
      "+600 click Begin reading\n+11000 key A\n+2000 key A\n+1000 key X 7\n+2000 key /\n"
      "+400 type 6 m sc 6 XOP\n+400 key Enter\n+90000 key A\n";
  pid_t child = room.sit(in_time(first), "");
  pid_t pid = room.wait_for_pid();
  const fs::path station = room.desk / "kept/0417-1.station";
  for (int i = 0; i < 12'000 && (!fs::exists(station) || fs::file_size(station) < 8000); ++i) {
    usleep(10'000);
  }
  REQUIRE(fs::exists(station));
  REQUIRE(::kill(pid, SIGSTOP) == 0);
  const std::string proc = "/proc/" + std::to_string(pid) + "/";
  for (const std::string name : {"environ", "cmdline", "mem", "maps", "status"}) {
    INFO(name);
    const bool can = room.reads(proc + name);
    if (name == "mem" && !room.account.empty()) CHECK_FALSE(can);
    if (name != "mem") room.find_in(name, bytes_of(proc + name));
  }
  const std::string limits = bytes_of(proc + "limits");
  const std::size_t core = limits.find("Max core file size");
  REQUIRE(core != std::string::npos);
  CHECK(limits.substr(core + 26, 1) == "0");
  room.search_desk();
  // All that was shown is among what is searched.
  CHECK(bytes_of(room.desk / "shown").find("Every act kept") != std::string::npos);
  // A crash in the middle leaves nothing either.
  REQUIRE(::kill(pid, SIGABRT) == 0);
  ::kill(pid, SIGCONT);
  ::kill(child, SIGCONT);  // runuser stops when what it runs does
  CHECK(wait_for(child) != 0);
  room.search_desk();

  fs::remove(room.desk / "pid");
  const std::string second = kOpen + "+800 click Go on\n+800 " + kWriteAndHandIn +
                             "+600 click Hand in\n+600 click comment\n+300 type The lights went "
                             "out\n+300 click Go on\n+600 click Go on now\n+600 click Begin "
                             "reading\n+3000 key A\n+70000 click Go on\n+600 key Esc\n";
  child = room.sit(in_time(second), " --resume");
  const int code = wait_for(child);
  INFO(bytes_of(room.desk / "said"));
  CHECK(code == 0);
  CHECK(fs::exists(room.desk / "kept/0417-3.station"));
  room.search_desk();
}
