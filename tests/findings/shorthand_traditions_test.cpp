// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Two hundred entries and more, as they are written where people work, each read and written back
// in every tradition and read again as the same. Notation: clinical §9 (College of Optometrists'
// annex; American usage) and practice, B17.
#include <catch2/catch.hpp>

#include <set>
#include <string>
#include <vector>

#include "sim/findings/shorthand.hpp"
#include "sim/record/act_json.hpp"

using namespace redress;
using namespace redress::findings;

namespace {

nlohmann::json as_json(const Finding& f) {
  return record::to_json(Act{0, act::Note{f}}).at("finding");
}

/// Each beginning with each ending: "6 m sc" + "8Δ XOP rapid rec".
std::vector<std::string> combine(const std::vector<std::string>& places,
                                 const std::vector<std::string>& entries) {
  std::vector<std::string> all;
  for (const std::string& place : places) {
    for (const std::string& entry : entries) all.push_back(place + " " + entry);
  }
  return all;
}

struct School {
  const char* name;
  std::vector<std::string> lines;
};

std::vector<School> make_schools() {
  return {
      {"United Kingdom, optometry",
       combine({"6 m sc", "33 cm cc", "40 cm c̄ gls"},
               {"NMD", "2Δ XOP rapid rec", "8Δ XOP slow rec", "4Δ SOP mod rec", "6Δ SOP no rec",
                "20Δ RSOT", "25Δ LXOT", "30Δ ALT SOT", "18Δ ALT XOT", "12Δ RSO(T)", "25Δ LXO(T)",
                "3Δ R/L", "2Δ L/R", "8Δ RHyperT", "6Δ LHypoT", "flick RSOT", "PCT 10Δ BI",
                "PCT 6Δ BO", "3Δ BD RE"})},
      {"United States",
       combine({"D sc", "N cc"},
               {"ø",         "ortho",      "2 XP",       "4 EP",      "6 X rapid rec", "5 E",
                "20 CRET",   "20 CLXT",    "20 IAXT",    "20 CAET",   "25 X(T)",       "20 E(T)",
                "15 LET",    "18 RXT",     "3 RH",       "2 LH",      "8 RHT",         "6 LHT",
                "APCT 12 X", "PACT 30 ET", "SPCT 6 RET", "flick RET", "ACT 6 X"})},
      {"Hospitals of the United Kingdom and Ireland",
       combine({"6 m s̄ gls", "33 cm c̄ gls"}, {"RCS 30",
                                              "LCS 25",
                                              "ACS 40",
                                              "RDS 35",
                                              "LDS 20",
                                              "int RDS 25",
                                              "int LCS 16",
                                              "min XOP gd rec",
                                              "sl RCS",
                                              "mod LDS",
                                              "mkd RCS",
                                              "NMD",
                                              "R/L 4",
                                              "L/R 3",
                                              "RCS 20 R/L 4",
                                              "PCT 25Δ BO",
                                              "XOP 8 sl rec",
                                              "XOP 6 jerky rec",
                                              "SOP 4 rec hesitant",
                                              "RCS 20 LMLN",
                                              "int RCS′"})},
      {"India",
       combine({"6 m sc", "33 cm cc", "1 m sc", "1/3 m sc"},
               {"ortho", "RCS 30", "LDS 45", "ACS 20", "PBCT 30Δ BI", "PBCT 40Δ BO", "XOP 8 gd rec",
                "SOP 4 gd rec", "R/L 6", "Krimsky RCS 30", "Hirschberg LDS 20"})},
      {"Australia",
       combine({"6 m sc", "40 cm cc"},
               {"NMD", "8 XOP gd rec", "4 SOP rapid rec", "20 ET", "25 XT", "12 X(T)", "RSOT 16",
                "LXOT 18", "concomitant 8 XOP", "incomitant 10 RSOT", "control 3", "control 0"})},
      {"Other tests, anywhere",
       {"NPC 9/13 cm",
        "NPC 6 cm",
        "NPC 8/11",
        "PFR 33 cm BO 17/21/11",
        "PFR 6 m BI x/7/4",
        "33 cm BO 17/21/11",
        "BI′ 13/21/13",
        "AC/A 4",
        "AC/A 6.5",
        "4Δ BO R normal",
        "4Δ BO L normal",
        "4 BO R no shift",
        "gradient AC/A 4",
        "8 exo",
        "R hyper 3",
        "LHypo 4",
        "L hypo 4, 6 exo",
        "E(T)′",
        "4Δ BO R no movement",
        "4Δ BO L no refixation"}},
  };
}

}  // namespace

TEST_CASE("shorthand: two hundred entries of six schools are read, and read again as written",
          "[findings]") {
  std::set<std::string> different;
  for (const School& school : make_schools()) {
    for (const std::string& line : school.lines) {
      const ShorthandReading first = read_shorthand(line);
      INFO(school.name << ": " << line << " -> " << first.message());
      REQUIRE(first.ok());
      different.insert(line);
      for (const Finding& f : first.findings) {
        for (const Tradition t : {Tradition::uk, Tradition::us, Tradition::hospital}) {
          const std::string written = write_shorthand(f, t);
          const ShorthandReading again = read_shorthand(written);
          INFO(written << " -> " << again.message());
          REQUIRE(again.ok());
          REQUIRE(again.findings.size() == 1);
          CHECK(as_json(again.findings[0]) == as_json(f));
        }
      }
    }
  }
  CHECK(different.size() >= 200);
}

TEST_CASE("shorthand: squints in a hospital's words", "[findings]") {
  const auto hospital = [](const char* line) {
    const ShorthandReading r = read_shorthand(line);
    REQUIRE(r.findings.size() == 1);
    return write_shorthand_bare(r.findings[0], Tradition::hospital);
  };
  CHECK(hospital("30 RET") == "30Δ RCS");
  CHECK(hospital("25 LX(T)") == "25Δ int LDS");
  CHECK(hospital("ALT SOT 20") == "20Δ ACS");
  CHECK(hospital("X 6") == "6Δ XOP");
}
