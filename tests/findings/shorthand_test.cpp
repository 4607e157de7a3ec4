// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Every notation of the tables of the clinical pages (§9, from the College of Optometrists annex
// [100] and American usage [101][102]) and of practice, B17, each row with its source; and that
// what is written is read again as it was.
#include "sim/findings/shorthand.hpp"

#include <catch2/catch.hpp>
#include <cstdint>
#include <iterator>

#include "sim/record/act_json.hpp"

using namespace redress;
using namespace redress::findings;

namespace {

/// The same draws each time (Knuth's MMIX constants).
class Draws {
 public:
  explicit Draws(std::uint64_t seed) : state_(seed) {}
  double uniform() {
    state_ = state_ * 6364136223846793005U + 1442695040888963407U;
    return static_cast<double>(state_ >> 11U) / 9007199254740992.0;
  }

 private:
  std::uint64_t state_;
};

struct Row {
  const char* text;
  const char* words;  // as the reader says them
  const char* source;
};

// At 6 m with correction unless the line says otherwise.
ShorthandContext six_metres() {
  ShorthandContext c;
  c.distance_m = 6.0;
  c.spectacles = true;
  return c;
}

std::string read_in_words(const std::string& line) {
  const ShorthandReading r = read_shorthand(line, six_metres());
  for (const UnreadPart& part : r.unread) UNSCOPED_INFO(part.message);
  CHECK(r.ok());
  return r.words;
}

nlohmann::json as_json(const Finding& f) { return record::to_json(Act{0, act::Note{f}}); }

Finding read_one(const std::string& line) {
  const ShorthandReading r = read_shorthand(line, six_metres());
  INFO(line << " -> " << r.message());
  REQUIRE(r.findings.size() == 1);
  return r.findings[0];
}

}  // namespace

TEST_CASE("shorthand: every notation of the tables is read", "[findings]") {
  const Row rows[] = {
      // UK, clinical §9 [100]; those marked (memory) there are from memory.
      {"8 SOP", "6 m, with correction, esophoria 8Δ", "§9 UK (memory)"},
      {"8Δ XOP", "6 m, with correction, exophoria 8Δ", "§9 UK (memory)"},
      {"LSOT 20Δ", "6 m, with correction, constant left esotropia 20Δ", "§9 UK"},
      {"RSOT 20Δ", "6 m, with correction, constant right esotropia 20Δ", "§9 UK"},
      {"ALT SOT 20Δ", "6 m, with correction, constant alternating esotropia 20Δ", "§9 UK"},
      {"RXOT 20Δ", "6 m, with correction, constant right exotropia 20Δ", "§9 UK (memory)"},
      {"LXOT 20Δ", "6 m, with correction, constant left exotropia 20Δ", "§9 UK (memory)"},
      {"ALT XOT 20Δ", "6 m, with correction, constant alternating exotropia 20Δ", "§9 UK"},
      {"R/L 4", "6 m, with correction, right hyperphoria 4Δ", "§9 UK; B17"},
      {"L/R 4", "6 m, with correction, left hyperphoria 4Δ", "§9 UK"},
      {"RHyperT 6", "6 m, with correction, constant right hypertropia 6Δ", "§9 UK"},
      {"RHypoT 6", "6 m, with correction, constant right hypotropia 6Δ", "§9 UK"},
      {"ϕ", "6 m, with correction, no movement seen", "§9 UK; B17"},
      {"θ", "6 m, with correction, no movement seen", "§9 UK; B17"},
      {"⊕", "6 m, with correction, no movement seen", "§9 UK; B17"},
      {"CT XOP 4", "6 m, with correction, exophoria 4Δ", "§9 UK"},
      {"AC/A 4", "6 m, with correction, AC/A 4Δ per dioptre", "§9 UK"},
      {"NPC 9/13 cm",
       "6 m, with correction, near point of convergence, break 9 cm, "
       "recovery 13 cm",
       "§9 UK"},
      {"NMD BSV", "6 m, with correction, no movement seen, “BSV”", "§9 UK"},
      {"NMD DVD", "6 m, with correction, no movement seen, dissociated vertical deviation",
       "§9 UK"},
      {"6 XOP′", "33 cm, with correction, exophoria 6Δ", "§9 UK: ′ near"},
      {"6 XOP N", "33 cm, with correction, exophoria 6Δ", "§9 UK: N near"},
      {"sc 6 XOP", "6 m, without correction, exophoria 6Δ", "§9 UK: sc"},
      {"cc 6 XOP", "6 m, with correction, exophoria 6Δ", "§9 UK: cc"},
      // US, clinical §9 [101][102].
      {"6 E", "6 m, with correction, esophoria 6Δ", "§9 US"},
      {"6 X", "6 m, with correction, exophoria 6Δ", "§9 US"},
      {"20 LET", "6 m, with correction, constant left esotropia 20Δ", "§9 US"},
      {"20 RET", "6 m, with correction, constant right esotropia 20Δ", "§9 US"},
      {"20 ET", "6 m, with correction, constant esotropia 20Δ", "§9 US"},
      {"20 RXT", "6 m, with correction, constant right exotropia 20Δ", "§9 US"},
      {"20 LXT", "6 m, with correction, constant left exotropia 20Δ", "§9 US"},
      {"20 XT", "6 m, with correction, constant exotropia 20Δ", "§9 US"},
      {"3 RH", "6 m, with correction, right hyperphoria 3Δ", "§9 US"},
      {"3 LH", "6 m, with correction, left hyperphoria 3Δ", "§9 US"},
      {"R H 3", "6 m, with correction, right hyperphoria 3Δ", "§9 US: H"},
      {"8 RHT", "6 m, with correction, constant right hypertropia 8Δ", "§9 US"},
      {"8 LHT", "6 m, with correction, constant left hypertropia 8Δ", "§9 US: HT"},
      {"ortho", "6 m, with correction, no movement seen", "§9 US"},
      {"ACT 6 X", "6 m, with correction, exophoria 6Δ, “alternate cover”", "§9 US [102]"},
      {"APCT 6 X", "6 m, with correction, exophoria 6Δ, measured", "§9 US [102]"},
      {"PACT 6 X", "6 m, with correction, exophoria 6Δ, measured", "§9 US"},
      {"SPCT 6 ET",
       "6 m, with correction, constant esotropia 6Δ, measured with prism and cover at once",
       "§9 US [102]"},
      {"6 E′", "33 cm, with correction, esophoria 6Δ", "§9 US [102]"},
      {"6 X'", "33 cm, with correction, exophoria 6Δ", "§9 US [102]"},
      {"25 X(T)’", "33 cm, with correction, intermittent exotropia 25Δ", "§9 US [102]"},
      {"25 E(T)", "6 m, with correction, intermittent esotropia 25Δ", "§9: ( ) round T"},
      {"25 X(T)", "6 m, with correction, intermittent exotropia 25Δ", "§9: ( ) round T"},
      {"RXO(T) 25", "6 m, with correction, intermittent right exotropia 25Δ", "§9: ( ) round T"},
      {"X 6 PD", "6 m, with correction, exophoria 6Δ", "§9 US: PD"},
      // Practice, B17: American.
      {"2 XP, 4 XP'", "6 m, with correction, exophoria 2Δ; 33 cm, with correction, exophoria 4Δ",
       "B17"},
      {"4 EP", "6 m, with correction, esophoria 4Δ", "B17"},
      {"20 CRET", "6 m, with correction, constant right esotropia 20Δ", "B17"},
      {"20 CLXT", "6 m, with correction, constant left exotropia 20Δ", "B17"},
      {"20 IAXT", "6 m, with correction, intermittent alternating exotropia 20Δ", "B17"},
      {"20 CAET", "6 m, with correction, constant alternating esotropia 20Δ", "B17"},
      {"flick RET", "6 m, with correction, constant right esotropia 2Δ, “flick”", "B17"},
      {"UCT/ACT ø", "6 m, with correction, no movement seen", "B17"},
      {"ø", "6 m, with correction, no movement seen", "B17"},
      // Practice, B17: hospitals of the United Kingdom and Ireland, India.
      {"RCS 30", "6 m, with correction, constant right esotropia 30Δ", "B17"},
      {"LCS 30", "6 m, with correction, constant left esotropia 30Δ", "B17"},
      {"ACS 30", "6 m, with correction, constant alternating esotropia 30Δ", "B17"},
      {"RDS 30", "6 m, with correction, constant right exotropia 30Δ", "B17"},
      {"LDS 30", "6 m, with correction, constant left exotropia 30Δ", "B17"},
      {"min XOP", "6 m, with correction, exophoria 2Δ, “minimal”", "B17"},
      {"sl RCS", "6 m, with correction, constant right esotropia 4Δ, “slight”", "B17"},
      {"mod LDS", "6 m, with correction, constant left exotropia 10Δ, “moderate”", "B17"},
      {"mkd RCS", "6 m, with correction, constant right esotropia 20Δ, “marked”", "B17"},
      {"NMD", "6 m, with correction, no movement seen", "B17"},
      {"c̄ gls NMD", "6 m, with correction, no movement seen", "B17"},
      {"s̄ gls NMD", "6 m, without correction, no movement seen", "B17"},
      {"XOP 6 gd rec", "6 m, with correction, exophoria 6Δ, recovery rapid", "B17"},
      {"XOP 6 rapid rec", "6 m, with correction, exophoria 6Δ, recovery rapid", "B17"},
      {"XOP 6 slow rec", "6 m, with correction, exophoria 6Δ, recovery slow", "B17"},
      {"PCT 10Δ BI", "6 m, with correction, exo 10Δ, measured", "B17"},
      // Words of recovery: clinical §9, recovery grades (b).
      {"XOP 6 mod rec", "6 m, with correction, exophoria 6Δ, recovery moderate", "§9 (b)"},
      {"XOP 6 no rec", "6 m, with correction, exophoria 6Δ, recovery none", "§9 (b)"},
      {"XOP 6 delayed rec", "6 m, with correction, exophoria 6Δ, recovery slow, “delayed”",
       "§9 (b)"},
      // The four-dioptre test, clinical §9 [97].
      {"4Δ BO R normal", "6 m, with correction, four-dioptre base-out test, right eye, typical",
       "§9 [97]"},
      {"4Δ BO L no movement",
       "6 m, with correction, four-dioptre base-out test, left eye, no "
       "movement of either eye",
       "§9 [97]"},
      {"4Δ BO RE no refixation",
       "6 m, with correction, four-dioptre base-out test, right eye, "
       "the fellow eye stayed out",
       "§9 [97]"},
  };
  for (const Row& row : rows) {
    INFO(row.source << ": " << row.text);
    CHECK(read_in_words(row.text) == row.words);
  }
}

TEST_CASE("shorthand: order, spacing and capitals are free", "[findings]") {
  const std::string wanted = "33 cm, with correction, exophoria 8Δ, recovery slow";
  for (const char* line :
       {"33 cm cc 8Δ XOP′ slow rec", "33cm cc xop' 8 rec slow", "XOP′ 8^ slow cc",
        "N cc 8XP slow rec.", "0.33 m with gls 8 pd X slow recovery"}) {
    INFO(line);
    CHECK(read_in_words(line) == wanted);
  }
  CHECK(read_in_words("13\" 8 X") == "33 cm, with correction, exophoria 8Δ");
  CHECK(read_in_words("20 ft 8 X") == "6 m, with correction, exophoria 8Δ");
}

TEST_CASE("shorthand: signs are those of the contract", "[findings]") {
  CHECK(read_one("8 SOP").horizontal_pd == 8.0);
  CHECK(read_one("8 XOP").horizontal_pd == -8.0);
  CHECK(read_one("R/L 4").vertical_pd == 4.0);
  CHECK(read_one("LH 4").vertical_pd == -4.0);
  CHECK(read_one("RHypoT 4").vertical_pd == -4.0);  // the right eye lower
  CHECK(read_one("LHypoT 4").vertical_pd == 4.0);
  CHECK(read_one("10Δ BI").horizontal_pd == -10.0);  // base in neutralises exo
  CHECK(read_one("10Δ BO").horizontal_pd == 10.0);
  CHECK(read_one("3Δ BD RE").vertical_pd == 3.0);  // base down before the higher eye
  CHECK(read_one("3Δ BU RE").vertical_pd == -3.0);
  CHECK(read_one("3Δ BD L").vertical_pd == -3.0);
}

TEST_CASE("shorthand: two axes in one entry", "[findings]") {
  for (const char* line : {"20Δ RSOT 4Δ R/L", "RSOT 20 R/L 4", "RSOT 20Δ 4Δ R/L", "R/L 4 RET 20"}) {
    INFO(line);
    const Finding f = read_one(line);
    CHECK(f.kind == FindingKind::tropia);
    CHECK(f.eye == FindingEye::right);
    CHECK(f.horizontal_pd == 20.0);
    CHECK(f.vertical_pd == 4.0);
  }
  const Finding phoria = read_one("X 6 RH 2");
  CHECK(phoria.kind == FindingKind::phoria);
  CHECK(phoria.horizontal_pd == -6.0);
  CHECK(phoria.vertical_pd == 2.0);
}

TEST_CASE("shorthand: a prism measures, an eye estimates", "[findings]") {
  CHECK(read_one("8 XOP").method == SizeMethod::estimated);
  CHECK(read_one("8 XOP").test == FindingTest::cover_test);
  for (const char* line : {"PCT 8 XOP", "XOP 8Δ BI", "8Δ BI", "XOP BI 8"}) {
    INFO(line);
    const Finding f = read_one(line);
    CHECK(f.test == FindingTest::prism_cover);
    CHECK(f.method == SizeMethod::measured);
    CHECK(f.horizontal_pd == -8.0);
  }
}

TEST_CASE("shorthand: reserves and near point", "[findings]") {
  const ShorthandReading r =
      read_shorthand("PFR 33 cm BO 17/21/11 BI x/21/13, NPC 9 cm / 13 cm", six_metres());
  INFO(r.message());
  REQUIRE(r.ok());
  REQUIRE(r.findings.size() == 3);
  CHECK(r.findings[0].base == "out");
  CHECK(r.findings[0].blur_value == 17.0);
  CHECK(r.findings[0].break_value == 21.0);
  CHECK(r.findings[0].recovery_value == 11.0);
  CHECK(r.findings[0].distance_m == 0.33);
  CHECK_FALSE(r.findings[1].blur_value.has_value());
  CHECK(r.findings[1].recovery_value == 13.0);
  CHECK(r.findings[2].test == FindingTest::near_point);
  CHECK(r.findings[2].break_value == 9.0);
  CHECK(r.findings[2].recovery_value == 13.0);
  // Two numbers are break and recovery.
  const Finding two = read_one("BI 7/4");
  CHECK(two.break_value == 7.0);
  CHECK(two.recovery_value == 4.0);
}

TEST_CASE("shorthand: what is not read is said, and the rest is read", "[findings]") {
  // The sentence of the screens (§9, shorthand).
  ShorthandContext none;
  const ShorthandReading r = read_shorthand("33 cm sc XOF′ 12Δ", none);
  CHECK_FALSE(r.ok());
  CHECK(r.message() ==
        "“XOF” is not read. Did you mean XOP (exophoria) or XOT (exotropia)? The rest reads: "
        "33 cm, without correction, near, 12Δ.");
  REQUIRE(r.unread.size() == 1);
  CHECK(r.unread[0].at == 9);
  CHECK(r.unread[0].text == "XOF");

  struct Bad {
    const char* line;
    const char* says;
  };
  for (const Bad& bad : {
           Bad{"12Δ", "12Δ of what?"},
           Bad{"H 4", "Which eye is higher?"},
           Bad{"hypoT 4", "Which eye is lower?"},
           Bad{"3Δ BD", "Base down before which eye?"},
           Bad{"XOP 8Δ BO", "neutralises the other direction"},
           Bad{"R XOP 8", "a phoria is of both eyes"},
           Bad{"int XOP 8", "neither constant nor intermittent"},
           Bad{"NMD XOP 8", "put a comma between"},
           Bad{"6/12 XOP 4", "“6/12” is read after NPC, BO or BI only."},
           Bad{"XOP 8 rec", "“rec” needs a word"},
           Bad{"XOP 8 normal", "belongs to the four-dioptre test"},
           Bad{"RX 8", "“RX” is not read."},
           Bad{"XOP 8-10", "“-” is not read."},
           Bad{"cm", ""},
           Bad{"\xff\xfe 8 XOP", "is not read."},
       }) {
    const ShorthandReading reading = read_shorthand(bad.line, six_metres());
    INFO(bad.line << " -> " << reading.message());
    CHECK_FALSE(reading.ok());
    CHECK(reading.message().find(bad.says) != std::string::npos);
  }
  CHECK(read_shorthand("", none).message().empty());
}

TEST_CASE("shorthand: a direction without a size is not lost silently", "[findings]") {
  const ShorthandReading r = read_shorthand("XOP slow rec", six_metres());
  REQUIRE(r.ok());
  CHECK(r.findings[0].kind == FindingKind::phoria);
  CHECK(r.findings[0].remark == "exo");
  CHECK(r.message().find("Add a size") != std::string::npos);
}

TEST_CASE("shorthand: no line breaks the reader", "[findings]") {
  Draws chance(7);
  const std::string pieces[] = {"XOP",  "R/L",  "4",   "Δ",   "′",    "BI", "BD",   "R",
                                "NPC",  "9/13", "cm",  "rec", "slow", "(",  ")",    "“",
                                "\"",   "/",    "x/",  "PFR", "no",   "ø",  "\xcc", ",",
                                "AC/A", "X(T)", "mod", "33",  "m",    "-",  "sc",   "4Δ BO"};
  constexpr std::uint64_t kLines = 4000;
  for (std::uint64_t i = 0; i < kLines; ++i) {
    std::string line;
    for (int k = 0; k < 8; ++k) {
      line += pieces[static_cast<std::size_t>(chance.uniform() *
                                              static_cast<double>(std::size(pieces)))];
      if (chance.uniform() < 0.6) line += ' ';
    }
    const ShorthandReading r = read_shorthand(line, six_metres());
    for (const UnreadPart& part : r.unread) {
      CHECK(part.at + part.length <= line.size());
      CHECK_FALSE(part.message.empty());
    }
    // Whatever was read can be written down as an act.
    for (const Finding& f : r.findings) {
      INFO(line);
      CHECK(record::check_act(Act{0, act::Note{f}}).size() <= 1);
    }
  }
}

namespace {

template <class T, std::size_t N>
T any_of(Draws& chance, const T (&values)[N]) {
  return values[static_cast<std::size_t>(chance.uniform() * static_cast<double>(N))];
}

Finding make_cover_finding(Draws& chance) {
  Finding f;
  f.test = any_of(chance, {FindingTest::cover_test, FindingTest::prism_cover});
  f.distance_m = any_of(chance, {6.0, 0.33, 0.4, 0.7, 1.0, 20.0});
  f.spectacles = chance.uniform() < 0.5;
  f.kind = any_of(chance, {FindingKind::none, FindingKind::phoria, FindingKind::tropia});
  if (chance.uniform() < 0.5) {
    f.recovery = any_of(chance, {RecoveryGrade::rapid, RecoveryGrade::moderate, RecoveryGrade::slow,
                                 RecoveryGrade::none});
  }
  if (f.kind == FindingKind::none) return f;
  const int axes = any_of(chance, {1, 2, 3});
  const auto size = [&] { return any_of(chance, {-25.0, -8.0, -0.5, 2.0, 4.0, 45.0}); };
  if ((axes & 1) != 0) f.horizontal_pd = size();
  if ((axes & 2) != 0) f.vertical_pd = size();
  f.method = any_of(chance, {SizeMethod::estimated, SizeMethod::measured});
  if (f.kind == FindingKind::tropia) {
    f.constancy = any_of(chance, {Constancy::constant, Constancy::intermittent});
    f.eye = any_of(chance, {FindingEye::right, FindingEye::left, FindingEye::alternating});
  }
  if (chance.uniform() < 0.2) f.comitant = chance.uniform() < 0.5;
  if (chance.uniform() < 0.2) f.remark = "after a blink, once";
  return f;
}

}  // namespace

TEST_CASE("shorthand: what is written is read as it was, in both traditions", "[findings]") {
  Draws chance(11);
  constexpr int kFindings = 3000;
  for (int i = 0; i < kFindings; ++i) {
    const Finding f = make_cover_finding(chance);
    for (const Tradition tradition : {Tradition::uk, Tradition::us}) {
      const std::string line = write_shorthand(f, tradition);
      const ShorthandReading r = read_shorthand(line);
      INFO(line << " -> " << r.message());
      REQUIRE(r.ok());
      REQUIRE(r.findings.size() == 1);
      REQUIRE(as_json(r.findings[0]) == as_json(f));
    }
  }
}

TEST_CASE("shorthand: other tests are read as they were written", "[findings]") {
  std::vector<Finding> findings;
  for (const char* line : {"NPC 9/13 cm", "NPC 8 cm", "PFR BO′ 17/21/11", "PFR BI x/7/4",
                           "4Δ BO R normal", "4Δ BO L no movement", "4Δ BO BE no refixation",
                           "AC/A 5.5", "PCT 10Δ BI", "PCT 4Δ BO 3Δ BD R", "PCT 2Δ BD L"}) {
    findings.push_back(read_one(line));
  }
  for (const Finding& f : findings) {
    for (const Tradition tradition : {Tradition::uk, Tradition::us}) {
      const std::string line = write_shorthand(f, tradition);
      const ShorthandReading r = read_shorthand(line);
      INFO(line << " -> " << r.message());
      REQUIRE(r.findings.size() == 1);
      CHECK(as_json(r.findings[0]) == as_json(f));
    }
  }
}

TEST_CASE("shorthand: the card in one line, both traditions", "[findings]") {
  // The read-back of the drawn record card (screens, 05).
  std::vector<WrittenFinding> entries;
  const ShorthandReading r =
      read_shorthand("cc 2Δ XOP rapid rec, 10Δ XOP′ slow rec NPC 9/13 cm", six_metres());
  INFO(r.message());
  REQUIRE(r.ok());
  for (const Finding& f : r.findings) entries.push_back({0, f});
  entries.back().finding.spectacles.reset();
  CHECK(write_shorthand(entries, Tradition::uk) ==
        "CT cc 2Δ XOP rapid rec, 10Δ XOP′ slow rec   NPC 9/13 cm");
  CHECK(write_shorthand(entries, Tradition::us) ==
        "CT cc 2 X rapid rec, 10 X′ slow rec   NPC 9/13 cm");
}
