// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands beside the size of a deviation (practice §2.7): read, written in every tradition and
// read again as the same. Terms: common practice, no source, but where a line says otherwise.
#include "sim/findings/shorthand_beside.hpp"

#include <catch2/catch.hpp>

#include <set>
#include <string>
#include <vector>

#include "sim/findings/shorthand.hpp"
#include "sim/record/act_json.hpp"

using namespace redress;
using namespace redress::findings;

namespace {

ShorthandContext at_six() { return {6.0, true, 0.33, 6.0}; }

nlohmann::json as_json(const Finding& f) {
  return record::to_json(Act{0, act::Note{f}}).at("finding");
}

Finding read_one(const std::string& line) {
  const ShorthandReading r = read_shorthand(line, at_six());
  INFO(line << " -> " << r.message());
  REQUIRE(r.ok());
  REQUIRE(r.findings.size() == 1);
  return r.findings[0];
}

}  // namespace

TEST_CASE("shorthand: sizes in gazes and tilts", "[findings]") {
  const Finding right = read_one("R gaze 28Δ eso fix R");
  CHECK(right.test == FindingTest::gaze);
  CHECK(right.gaze_horizontal_deg == 25.0);
  CHECK(right.gaze_vertical_deg == 0.0);
  CHECK(right.horizontal_pd == 28.0);
  CHECK(right.fixing == FindingEye::right);
  CHECK_FALSE(right.kind);

  const Finding corner = read_one("down-L gaze R/L 18");
  CHECK(corner.gaze_horizontal_deg == -25.0);
  CHECK(corner.gaze_vertical_deg == -25.0);
  CHECK(corner.vertical_pd == 18.0);
  CHECK_FALSE(corner.kind);

  const Finding tilt = read_one("tilt R 20 R/L");
  CHECK(tilt.head_roll_deg == 30.0);
  CHECK(tilt.vertical_pd == 20.0);
  CHECK(tilt.test == FindingTest::gaze);

  CHECK(read_one("R gaze 15° 10 ET").gaze_horizontal_deg == 15.0);
  CHECK(read_one("R gaze 15° 10 ET").kind == FindingKind::tropia);
  const Finding two = read_one("up-R gaze 20°/10° 4 exo");
  CHECK(two.gaze_horizontal_deg == 20.0);
  CHECK(two.gaze_vertical_deg == 10.0);
  CHECK(read_one("tilt L 40° 4 L/R").head_roll_deg == -40.0);
  CHECK(read_one("PCT R gaze 28 eso").method == SizeMethod::measured);
  CHECK(read_one("laevoversion 6 eso").gaze_horizontal_deg == -25.0);
  CHECK(read_one("up gaze NMD").kind == FindingKind::none);
  CHECK(read_one("up gaze 0").horizontal_pd == 0.0);

  // One after another, with and without commas.
  for (const char* line : {"R gaze 28 eso, L gaze 6 eso, primary 18 eso",
                           "R gaze 28 eso L gaze 6 eso primary 18 eso"}) {
    const ShorthandReading r = read_shorthand(line, at_six());
    INFO(r.message());
    REQUIRE(r.ok());
    REQUIRE(r.findings.size() == 3);
    CHECK(r.findings[1].gaze_horizontal_deg == -25.0);
    CHECK(r.findings[1].horizontal_pd == 6.0);
    CHECK(r.findings[2].gaze_horizontal_deg == 0.0);
  }
}

TEST_CASE("shorthand: what was seen beside the size", "[findings]") {
  const Finding f = read_one(
      "20Δ RSOT RE out on cover LE still on cover V-pattern excyclo 5° nystagmus diplopia unsure");
  CHECK(f.test == FindingTest::cover_test);
  CHECK(f.on_cover.right == SeenWay::out);
  CHECK(f.on_cover.left == SeenWay::none);
  CHECK(f.pattern == SeenPattern::v);
  CHECK(f.torsion_deg == 5.0);
  CHECK(f.nystagmus == true);
  CHECK(f.double_vision == true);
  CHECK(f.confidence == Confidence::unsure);
  CHECK(f.horizontal_pd == 20.0);
  CHECK(read_one("5° incyclo R/L 6").torsion_deg == -5.0);
  CHECK(read_one("excyclo 14 R/L 1").torsion_deg == 14.0);
  CHECK(read_one("8 XOP 3 covers").remark == "3 covers");
  CHECK(read_one("25 X(T) 4 covers to break").covers_to_break == 4);
  CHECK(read_one("ALT SOT 30 holds to blink").holds_to_blink == true);
  CHECK(read_one("RET 20 does not hold").holds_to_blink == false);
  CHECK(read_one("R/L 12 head tilt L chin down").head_posture == "head tilt left, chin down");
  CHECK(read_one("R/L 12 AHP “looks up through the add”").head_posture ==
        "looks up through the add");
  CHECK(read_one("ALT SOT 20 picture").target == "picture");
  CHECK(read_one("6 m not done “asleep”").not_done == "asleep");
  CHECK(read_one("4Δ BO R unclear").not_done == "unclear");
  CHECK(read_one("NPC 9/13 L out").eye == FindingEye::left);
  CHECK(read_one("Hirschberg central").kind == FindingKind::none);
}

TEST_CASE("shorthand: versions and ductions", "[findings]") {
  const Finding limited = read_one("OM RE short of abduction LE full");
  CHECK(limited.test == FindingTest::motility);
  CHECK(limited.falls_short.right == SeenWay::out);
  CHECK(limited.falls_short.left == SeenWay::none);
  for (const char* line : {"R abduction limited", "limited R abduction", "RLR u/a", "RLR -2",
                           "RLR −2", "RE short of abduction"}) {
    INFO(line);
    const Finding f = read_one(line);
    CHECK(f.test == FindingTest::motility);
    CHECK(f.falls_short.right == SeenWay::out);
    CHECK_FALSE(f.falls_short.left);
  }
  CHECK(read_one("RLR -2").remark == "RLR −2");
  CHECK(read_one("LIO o/a DVD").remark == "LIO o/a");
  const Finding full = read_one("OM full");
  CHECK(full.falls_short.right == SeenWay::none);
  CHECK(full.falls_short.left == SeenWay::none);
  // Beside a deviation they are an entry of their own.
  const ShorthandReading both = read_shorthand("20 RSOT RLR -2", at_six());
  REQUIRE(both.findings.size() == 2);
  CHECK(both.findings[0].test == FindingTest::motility);
  CHECK(both.findings[1].horizontal_pd == 20.0);
}

TEST_CASE("shorthand: a control score at both distances", "[findings]") {
  const ShorthandReading r = read_shorthand("control 3/1", at_six());
  REQUIRE(r.findings.size() == 2);
  CHECK(r.findings[0].control == 3);
  CHECK(r.findings[0].distance_m == 6.0);
  CHECK(r.findings[1].control == 1);
  CHECK(r.findings[1].distance_m == 0.33);
}

TEST_CASE("shorthand: what is half said beside the size is pointed out", "[findings]") {
  struct Bad {
    const char* line;
    const char* says;
  };
  for (const Bad& bad :
       {Bad{"20 RSOT 15°", "15° of what? Write R gaze 15°"},
        Bad{"R/L 12 AHP", "Write the head posture in words"},
        Bad{"R/L 12 excyclo", "Add the degrees"}, Bad{"R gaze", "Add a size"},
        Bad{"8 XOP 2.5 covers", "a whole number"}, Bad{"8 XOP nystagmsu", "nystagmus"}}) {
    const ShorthandReading r = read_shorthand(bad.line, at_six());
    INFO(bad.line << " -> " << r.message());
    CHECK(r.message().find(bad.says) != std::string::npos);
  }
}

TEST_CASE("shorthand: what stands beside a size is read again as written", "[findings]") {
  // Each beginning with each ending: more than two hundred entries of the fields of practice §2.7.
  const std::vector<std::string> deviations{"8Δ XOP slow rec",
                                            "20Δ RSOT",
                                            "25Δ X(T)",
                                            "R/L 12",
                                            "R gaze 28 eso",
                                            "up-L gaze R/L 4",
                                            "tilt R 20 R/L",
                                            "PCT primary 18 eso",
                                            "down gaze 15° 12Δ eso R/L 8",
                                            "NMD"};
  const std::vector<std::string> besides{"RE out on cover",
                                         "LE in on uncover",
                                         "BE still on cover",
                                         "V pattern",
                                         "A-pattern",
                                         "no pattern",
                                         "excyclo 5°",
                                         "incyclo 3.5°",
                                         "no torsion",
                                         "DVD",
                                         "no DVD",
                                         "RDVD",
                                         "nystagmus",
                                         "no nystagmus",
                                         "latent nystagmus",
                                         "diplopia",
                                         "no diplopia",
                                         "head tilt L",
                                         "face turn R chin down",
                                         "AHP “leans back”",
                                         "picture",
                                         "letters",
                                         "spot",
                                         "fix R",
                                         "FLE",
                                         "sure",
                                         "fairly sure",
                                         "unsure",
                                         "3 covers to break",
                                         "holds to blink",
                                         "does not hold",
                                         "3 covers",
                                         "“after a blink”",
                                         "V pattern excyclo 5° DVD fix L unsure “after lunch”"};
  std::set<std::string> different;
  for (const std::string& deviation : deviations) {
    for (const std::string& beside : besides) {
      const std::string line = deviation + " " + beside;
      const Finding f = read_one(line);
      different.insert(line);
      for (const Tradition t : {Tradition::uk, Tradition::us, Tradition::hospital}) {
        const std::string written = write_shorthand(f, t);
        const ShorthandReading again = read_shorthand(written);
        INFO(line << " -> " << written << " -> " << again.message());
        REQUIRE(again.ok());
        REQUIRE(again.findings.size() == 1);
        REQUIRE(as_json(again.findings[0]) == as_json(f));
      }
    }
  }
  for (const char* line :
       {"OM full", "OM RE short of abduction LE full", "RLR -2", "LSO u/a", "LE short of elevation",
        "NPC 9/13 cm R out", "control 0", "4Δ BO L unclear", "6 m not done “asleep”",
        "Hirschberg central", "Krimsky LDS 40", "OM not done “tired”"}) {
    const Finding f = read_one(line);
    for (const Tradition t : {Tradition::uk, Tradition::us, Tradition::hospital}) {
      const std::string written = write_shorthand(f, t);
      const ShorthandReading again = read_shorthand(written);
      INFO(line << " -> " << written << " -> " << again.message());
      REQUIRE(again.findings.size() == 1);
      CHECK(as_json(again.findings[0]) == as_json(f));
    }
  }
  CHECK(different.size() >= 200);
}
