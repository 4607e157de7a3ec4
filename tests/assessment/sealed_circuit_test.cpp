// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A sealed circuit opens with its passphrase and with nothing else, and shows nothing before.
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/file.hpp"
#include "sim/program/circuit_files.hpp"
#include "tests/assessment/circuit_texts.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::assessment;
using namespace redress::testing;
using nlohmann::json;

namespace {

constexpr const char* kPassphrase = "four plain words here";
const std::string kBeside = support::source_dir() + "/scenarios/x.json";

struct Sealed {
  Circuit circuit = parse_circuit(small_circuit()).value();
  std::vector<std::vector<Form>> forms =
      program::load_forms(circuit, program::patients_beside(kBeside)).value();
  std::string bytes = seal_circuit(circuit, forms, kPassphrase, kLeastCost).value();
};

}  // namespace

TEST_CASE("a sealed circuit opens to what was sealed, with its passphrase alone", "[assessment]") {
  const Sealed sealed;
  const auto opened = open_circuit(sealed.bytes, kPassphrase);
  if (!opened) FAIL(listed(opened.problems()));
  CHECK(opened.value().circuit == sealed.circuit);
  REQUIRE(opened.value().forms.size() == 3);
  CHECK(opened.value().forms[0][0].written == sealed.forms[0][0].written);
  CHECK(opened.value().forms[2].size() == 2);
  CHECK(opened.value().forms[2][1].seed == sealed.forms[2][1].seed);
  CHECK(read_circuit_id(sealed.bytes).value() == opened.value().keys.id());
  // Sealed again it is another one.
  const Sealed again;
  CHECK_FALSE(read_circuit_id(again.bytes).value() == opened.value().keys.id());

  for (const std::string wrong : {"", "four plain words herf", "four plain words here "}) {
    const auto refused = open_circuit(sealed.bytes, wrong);
    REQUIRE_FALSE(refused.ok());
    REQUIRE(refused.problems().size() == 1);
    CHECK(refused.problems()[0].message == "that does not open it");
    CHECK(refused.problems()[0].place.empty());
  }
  const auto short_one = seal_circuit(sealed.circuit, sealed.forms, "short", kLeastCost);
  REQUIRE_FALSE(short_one.ok());
  CHECK(short_one.problems()[0].message.find("allowed") != std::string::npos);
}

TEST_CASE("a sealed file that was altered or cut is refused, at every byte", "[assessment]") {
  const Sealed sealed;
  const std::string& good = sealed.bytes;
  std::string changed = good;
  std::size_t opened = 0;
  for (std::size_t i = 0; i < good.size(); ++i) {
    changed[i] = static_cast<char>(good[i] ^ static_cast<char>(1U << (i % 8)));
    if (open_circuit(changed, kPassphrase).ok()) ++opened;
    changed[i] = good[i];
  }
  CHECK(opened == 0);
  for (const std::size_t size :
       {std::size_t{0}, std::size_t{30}, good.size() / 2, good.size() - 1}) {
    CHECK_FALSE(open_circuit(good.substr(0, size), kPassphrase).ok());
  }
  const auto longer = open_circuit(good + "x", kPassphrase);
  REQUIRE_FALSE(longer.ok());
  CHECK(longer.problems()[0].message.find("altered or cut short") != std::string::npos);
}

TEST_CASE("neither the sealed file nor the folder shows what is in it", "[assessment]") {
  tests::TemporaryFolder folder;
  const Sealed sealed;
  REQUIRE_FALSE(write_whole_file(folder / "circuit.sealed", sealed.bytes));
  const auto opened = open_circuit(read_file(folder / "circuit.sealed").value(), kPassphrase);
  REQUIRE(opened.ok());
  CHECK(folder.count() == 1);
  const std::string shown = read_file(folder / "circuit.sealed").value();
  std::vector<std::string> leaks{"deviation",    "Find what there is", "exophoria",
                                 "redress-case", "stations",           "small",
                                 kPassphrase};
  const OpenedCircuit& o = opened.value();
  leaks.push_back(o.forms[0][0].content.patient.name);
  leaks.push_back(to_hex_text({o.keys.seed().data(), o.keys.seed().size()}));
  leaks.emplace_back(o.keys.seed().text());
  for (const std::string& leak : leaks) {
    REQUIRE_FALSE(leak.empty());
    CHECK(shown.find(leak) == std::string::npos);
  }
}

TEST_CASE("a circuit whose cases changed since it was sealed says so", "[assessment]") {
  const Sealed sealed;
  const auto opened = open_circuit(sealed.bytes, kPassphrase);
  REQUIRE(opened.ok());
  const FindPatient same = program::patients_beside(kBeside);
  CHECK(find_changes(opened.value(), sealed.circuit, same).empty());
  const FindPatient other = [&](const Station& station, std::uint64_t seed) {
    Result<json> found = same(station, seed);
    json changed = found.value();
    if (!station.family) changed["deviation"]["distance_pd"] = -3;
    return Result<json>(changed);
  };
  const Problems changes = find_changes(opened.value(), sealed.circuit, other);
  REQUIRE(changes.size() == 1);
  CHECK(changes[0].place == "/stations/0/case");
  CHECK(changes[0].message == "exophoria.json has changed since it was sealed");
  Circuit longer = sealed.circuit;
  longer.stations[0].time_s += 60;
  CHECK(find_changes(opened.value(), longer, same).size() == 1);
}

TEST_CASE("each wrong passphrase makes the next wait longer, up to a minute", "[assessment]") {
  CHECK(calc_wait_s(0) == 0);
  CHECK(calc_wait_s(1) == 1);
  CHECK(calc_wait_s(4) == 8);
  CHECK(calc_wait_s(7) == 60);
  CHECK(calc_wait_s(1000) == 60);
}

TEST_CASE("a process that opens a circuit leaves no core and no door to its memory",
          "[assessment]") {
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    (void)harden_process();
    rlimit limit{1, 1};
    getrlimit(RLIMIT_CORE, &limit);
    const bool good = prctl(PR_GET_DUMPABLE, 0, 0, 0, 0) == 0 && limit.rlim_cur == 0;
    _exit(good ? 0 : 1);
  }
  int status = -1;
  waitpid(child, &status, 0);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);
}
