// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A kept station of ten minutes: a flipped bit in any line, at any place of a line, a cut after any
// line and lines that change places are noticed. Signatures are slow to check (the whole file has
// some thousands), so that each change is held against its own line with the pieces that
// verify_station is made of, and a sample of them against the whole file.
#include <catch2/catch.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "sim/assessment/kept_station.hpp"
#include "sim/assessment/station_lines.hpp"
#include "sim/assessment/station_writer.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/run.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::assessment;

namespace {

constexpr Tick kTenMinutes = 600'000;

struct Kept {
  CircuitKeys circuit;
  WorkstationKey key = make_workstation_key(circuit, "desk 3");
  std::string text;
  std::vector<std::string_view> lines;  // without line ends
  std::vector<std::string> chains;      // before each line

  Kept() {
    tests::TemporaryFolder folder;
    const auto the_case = testing::least_case();
    const ExaminationSetup setup = setup_of(parse_case(the_case).value());
    std::vector<Act> acts{{0, act::ShowTarget{}}};
    for (Tick t = 1000; t + 4000 < kTenMinutes; t += 4000) {
      acts.push_back({t, act::Cover{t % 8000 == 1000 ? Eye::right : Eye::left}});
      acts.push_back({t + 1500, act::Uncover{}});
    }
    const std::string path = folder / "0417-4.station";
    {
      StationWriter writer(path, {circuit.id(), "desk 3", "0417", 3}, key,
                           record::make_header(the_case, 77, 1.0), false);
      record::RunOptions options;
      options.chance = {77, 1.0, true};
      options.until_ms = kTenMinutes;
      record::run(setup, acts, options, writer);
      REQUIRE_FALSE(writer.problem());
    }
    text = read_file(path).value();
    std::string chain;
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t end = text.find('\n', at);
      lines.push_back(std::string_view(text).substr(at, end - at));
      chains.push_back(chain);
      chain = calc_next_chain(*find_signature(lines.back()), chain);
      at = end + 1;
    }
  }
  /// Whether line n would be taken for the one that its workstation signed in this place.
  [[nodiscard]] bool takes(std::string_view line, std::size_t n) const {
    const auto parts = find_signature(line);
    return parts && fits(*parts, key.key.public_key(), chains[n]);
  }
};

}  // namespace

TEST_CASE("a station of ten minutes: changes in any line at any place are noticed",
          "[assessment]") {
  const Kept kept;
  REQUIRE(verify_station(kept.text, kept.circuit.id()).intact());
  REQUIRE(kept.lines.size() > 2400);
  // The pieces say of every line what the whole says of the file.
  std::size_t refused = 0;
  for (std::size_t n = 0; n < kept.lines.size(); ++n)
    refused += kept.takes(kept.lines[n], n) ? 0U : 1U;
  REQUIRE(refused == 0);

  // Sixteen places of each line, others in each, so that all places of a line have their turn.
  constexpr std::size_t kPlaces = 16;
  std::size_t unnoticed = 0;
  std::size_t flips = 0;
  for (std::size_t n = 0; n < kept.lines.size(); ++n) {
    std::string line(kept.lines[n]);
    const std::size_t apart = line.size() / kPlaces;
    for (std::size_t k = 0; k < kPlaces; ++k) {
      const std::size_t i = k * apart + n % apart;
      line[i] = static_cast<char>(static_cast<unsigned char>(line[i]) ^ (1U << (n + k) % 8));
      // The same signature, written otherwise, is no other line; its text is in the next chain.
      if (kept.takes(line, n) &&
          calc_next_chain(*find_signature(line), kept.chains[n]) ==
              calc_next_chain(*find_signature(kept.lines[n]), kept.chains[n])) {
        ++unnoticed;
      }
      line[i] = kept.lines[n][i];
      ++flips;
    }
  }
  CHECK(flips > 38'000);
  CHECK(unnoticed == 0);

  std::size_t moved = 0;
  for (std::size_t n = 1; n + 1 < kept.lines.size(); ++n) {
    moved += kept.takes(kept.lines[n + 1], n) ? 1U : 0U;  // it was left out, or they changed places
    moved += kept.takes(kept.lines[n], n + 1) ? 1U : 0U;  // it is there twice
  }
  CHECK(moved == 0);
}

TEST_CASE("a station of ten minutes: the whole file tells where a sample of changes is",
          "[assessment]") {
  const Kept kept;
  const CircuitId id = kept.circuit.id();
  std::string text = kept.text;
  for (std::size_t n = 1; n < kept.lines.size(); n += 601) {
    INFO("line " << n + 1);
    const auto begin = static_cast<std::size_t>(kept.lines[n].data() - kept.text.data());
    const std::size_t i = begin + n % kept.lines[n].size();
    text[i] = static_cast<char>(text[i] ^ 4);
    const StationVerdict altered = verify_station(text, id);
    CHECK(altered.standing == Standing::altered);
    CHECK((altered.line == n + 1 || altered.line == n + 2));
    text[i] = kept.text[i];
    const StationVerdict cut = verify_station(std::string_view(text).substr(0, begin), id);
    CHECK(cut.standing == Standing::cut_short);
    CHECK(cut.good_lines == n);
    const StationVerdict within = verify_station(std::string_view(text).substr(0, begin + 9), id);
    CHECK(within.standing == Standing::cut_short);
    CHECK(within.good_lines == n);
  }
}
