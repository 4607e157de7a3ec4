// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Examining by hand: what is recorded does not depend on when frames are drawn, replays bit for
// bit, and survives what goes wrong.
#include <cstdint>
#include <memory>
#include <ostream>
#include <set>
#include <streambuf>
#include <string>

#include <catch2/catch.hpp>

#include "sim/cases/on_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "tests/render/examine_script.hpp"

using namespace redress;
using namespace redress::tests;
using namespace redress::screens::examine;
using hid::letter;

namespace {

Session make_session(std::unique_ptr<std::ostream> out = nullptr, SessionSettings settings = {}) {
  const auto parsed = parse_case(case_json());
  REQUIRE(parsed.ok());
  return Session(parsed.value(), case_json(), {17, 0.0}, std::move(out), settings);
}

void press_key(Session& session, Scancode key, Modifiers modifiers = {}) {
  session.feed({session.now(), KeyPressed{key, modifiers, false}});
}

template <class A>
std::vector<A> acts_of(const Session& session) {
  std::vector<A> found;
  for (const Act& act : session.live().acts()) {
    if (const auto* a = std::get_if<A>(&act.content)) found.push_back(*a);
  }
  return found;
}

/// A disk with room for so many bytes.
class SmallDisk : public std::streambuf {
 public:
  SmallDisk(std::shared_ptr<std::string> bytes, std::size_t room) : bytes_(bytes), room_(room) {}

 protected:
  std::streamsize xsputn(const char* data, std::streamsize count) override {
    const std::size_t free = room_ - std::min(room_, bytes_->size());
    const std::size_t taken = std::min(free, static_cast<std::size_t>(count));
    bytes_->append(data, taken);
    if (taken < static_cast<std::size_t>(count)) errno = ENOSPC;
    return static_cast<std::streamsize>(taken);
  }
  int_type overflow(int_type c) override {
    const char byte = static_cast<char>(c);
    return xsputn(&byte, 1) == 1 ? c : traits_type::eof();
  }

 private:
  std::shared_ptr<std::string> bytes_;
  std::size_t room_;
};

struct DiskStream : std::ostream {
  explicit DiskStream(std::unique_ptr<SmallDisk> disk)
      : std::ostream(disk.get()), disk_(std::move(disk)) {}
  std::unique_ptr<SmallDisk> disk_;
};

}  // namespace

TEST_CASE("the same inputs make the same record at any frame rate, and it replays bit for bit") {
  const Script script = make_script();
  const auto steady = [](double hz) { return [hz](double time) { return time + 1000.0 / hz; }; };
  const std::string at_60 = record_of(script, steady(60));
  CHECK(record_of(script, steady(30)) == at_60);
  CHECK(record_of(script, steady(144)) == at_60);
  // Jittered frames, with stalls of up to 180 ms.
  const auto jitter = [](std::uint64_t seed) {
    return [state = seed](double time) mutable {
      state = state * 6364136223846793005ULL + 1442695040888963407ULL;
      const double draw = static_cast<double>(state >> 40) / static_cast<double>(1ULL << 24);
      return time + (draw > 0.95 ? 180.0 * draw : 2.0 + 30.0 * draw);
    };
  };
  CHECK(record_of(script, jitter(5)) == at_60);
  CHECK(record_of(script, jitter(99)) == at_60);

  const auto record = record::read_record(at_60);
  REQUIRE(record.ok());
  CHECK(record.value().acts.size() > 150);
  REQUIRE(record.value().end);
  CHECK(*record.value().end == kScriptEnd);
  const auto the_case = parse_case(record.value().header.the_case);
  REQUIRE(the_case.ok());
  const record::ReplayVerdict verdict = record::replay(record.value(), setup_of(the_case.value()));
  INFO(verdict.message);
  CHECK(verdict.agrees);
  CHECK(verdict.states == static_cast<std::size_t>(kScriptEnd / 250 + 1));
}

TEST_CASE("a target shown at once is not what the patient has been looking at all along") {
  auto buffer = std::make_shared<std::stringbuf>();
  Session session = make_session(std::make_unique<SharedStream>(buffer));
  session.feed({0, KeyPressed{static_cast<Scancode>(hid::kF1 + 5), {}, false}});
  session.advance_to(1500);
  session.end();
  const auto record = record::read_record(buffer->str());
  REQUIRE(record.ok());
  REQUIRE(record.value().acts.size() == 1);
  CHECK(record.value().acts[0].at_ms >= 1);
  const auto the_case = parse_case(record.value().header.the_case);
  CHECK(record::replay(record.value(), setup_of(the_case.value())).agrees);
}

TEST_CASE("A and D cover the side that is seen, again takes it away on that side") {
  Session session = make_session();
  press_key(session, letter('A'));
  session.advance_to(600);
  CHECK(session.live().room().covered.right);  // the patient's right is on the left
  CHECK_FALSE(session.live().room().covered.left);
  press_key(session, letter('D'));
  session.advance_to(1200);
  CHECK(session.live().room().covered.left);
  CHECK_FALSE(session.live().room().covered.right);
  press_key(session, letter('D'));
  session.advance_to(1800);
  CHECK_FALSE(session.live().room().occluder.before_face);
  const auto covers = acts_of<act::Cover>(session);
  REQUIRE(covers.size() == 2);
  CHECK(covers[0].travel_ms == 220);
  const auto uncovers = acts_of<act::Uncover>(session);
  REQUIRE(uncovers.size() == 1);
  CHECK(uncovers[0].towards == Side::temporal);
}

TEST_CASE("Space goes to the other eye, Shift is slow, W lifts, a held key repeats no motion") {
  Session session = make_session();
  press_key(session, hid::kSpace);
  session.advance_to(500);
  CHECK(session.live().room().covered.right);
  press_key(session, hid::kSpace, {.shift = true});
  session.feed({session.now(), KeyPressed{hid::kSpace, {}, true}});
  session.advance_to(1300);
  CHECK(session.live().room().covered.left);
  press_key(session, letter('W'));
  session.advance_to(2000);
  CHECK_FALSE(session.live().room().covered.left);
  const auto covers = acts_of<act::Cover>(session);
  REQUIRE(covers.size() == 2);
  CHECK(covers[1].travel_ms == 600);
  CHECK(acts_of<act::Uncover>(session).at(0).towards == Side::above);
}

TEST_CASE("a key's motion is cut short by the next from where the occluder is") {
  Session session = make_session();
  press_key(session, letter('A'));
  session.advance_to(500);
  press_key(session, hid::kSpace, {.shift = true});
  session.advance_to(800);
  const double midway = session.live().room().occluder.pose.x_mm;
  REQUIRE(std::abs(midway) < 25);
  press_key(session, letter('A'));
  session.advance_to(803);
  CHECK(session.live().room().occluder.pose.x_mm == Approx(midway).margin(0.5));
}

TEST_CASE("the mouse takes over from a key where the occluder is, and a key from the mouse") {
  Session session = make_session();
  session.feed({0, pixel_of(31, 0)});
  press_key(session, letter('D'));
  session.advance_to(120);
  const double before = session.live().room().occluder.pose.x_mm;
  session.feed({120, PointerPressed{Button::left}});
  session.advance_to(123);
  CHECK(session.live().room().occluder.pose.x_mm == Approx(before).margin(1.5));
  session.advance_to(900);
  CHECK(session.live().room().covered.right);
  press_key(session, letter('D'));
  session.advance_to(1500);
  CHECK(session.live().room().covered.left);
  CHECK(session.hand().grip() == Hand::Grip::by_keys);
}

TEST_CASE("focus lost in mid-cover leaves the occluder where it is, says so, and the clock runs") {
  Session session = make_session();
  session.feed({0, pixel_of(31, 0)});
  session.feed({5, PointerPressed{Button::left}});
  const Tick lost_at = GENERATE(60, 900);  // on its way, and before the eye
  session.advance_to(lost_at);
  session.feed({lost_at, FocusLost{}});
  session.advance_to(lost_at + 20);
  const optics::OccluderPose there = session.live().room().occluder.pose;
  session.feed({lost_at + 30, pixel_of(-70, -30)});
  session.feed({lost_at + 40, PointerReleased{Button::left}});
  session.advance_to(lost_at + 3000);
  CHECK(session.live().room().occluder.pose == there);
  CHECK(session.live().room().occluder.before_face);
  CHECK(session.now() == lost_at + 3000);
  REQUIRE(session.messages().shown());
  CHECK(session.messages().shown()->words.find("stays where it is") != std::string::npos);
  CHECK(session.live().room().covered.right == (lost_at == 900));
}

TEST_CASE("an unplugged controller leaves the occluder where it is and mouse and keys go on") {
  Session session = make_session();
  ControllerMoved stick;
  stick.right_x = -0.69;  // before the eye on the left
  stick.right_trigger = 1.0;
  session.feed({10, stick});
  session.advance_to(900);
  REQUIRE(session.live().room().covered.right);
  const optics::OccluderPose there = session.live().room().occluder.pose;
  CHECK(-there.z_mm - 13.5 == Approx(15).margin(0.1));
  session.feed({900, ControllerUnplugged{}});
  session.advance_to(2000);
  CHECK(session.live().room().occluder.pose == there);
  REQUIRE(session.messages().shown());
  CHECK(session.messages().shown()->words ==
        "Controller unplugged. The occluder stays where it is. Mouse and keys work.");
  press_key(session, letter('W'));
  session.advance_to(2600);
  CHECK_FALSE(session.live().room().covered.right);
}

TEST_CASE("a full disk is told, the examination goes on, and the record is safe up to there") {
  const auto bytes = std::make_shared<std::string>();
  auto disk = std::make_unique<DiskStream>(std::make_unique<SmallDisk>(bytes, 6000));
  Session session = make_session(std::move(disk));
  const Script script = make_script();
  for (const Input& input : script.inputs) session.feed(input);
  constexpr Tick kEnd = kScriptEnd + 8000;  // the patient's answer has been on the line
  session.advance_to(kEnd);
  REQUIRE(session.live().record_problem());
  REQUIRE(session.messages().shown());
  CHECK(session.messages().shown()->voice == Voice::fault);
  CHECK(session.messages().shown()->strong == "Disk full.");
  CHECK(session.now() == kEnd);
  CHECK(bytes->size() == 6000);

  const auto cut = record::read_cut_record(*bytes);
  REQUIRE(cut.ok());
  CHECK_FALSE(cut.value().record.acts.empty());
  const auto the_case = parse_case(cut.value().record.header.the_case);
  CHECK(record::replay(cut.value().record, setup_of(the_case.value())).agrees);
  CHECK(record::calc_last_tick(cut.value().record) <= session.live().recorded_until());

  // Saved elsewhere from memory it is whole.
  session.end();
  std::ostringstream elsewhere;
  CHECK_FALSE(session.live().save_elsewhere(elsewhere));
  const auto whole = record::read_record(elsewhere.str());
  REQUIRE(whole.ok());
  CHECK(whole.value().acts.size() == session.live().acts().size());
  CHECK(record::replay(whole.value(), setup_of(the_case.value())).agrees);
}

TEST_CASE("speech is shown at once, a note only when the occluder has rested for 600 ms") {
  Session session = make_session();
  press_key(session, letter('A'));
  session.advance_to(100);
  press_key(session, letter('Q'));  // below the bar's first step: a note
  session.advance_to(750);
  CHECK_FALSE(session.messages().shown());
  session.advance_to(850);
  REQUIRE(session.messages().shown());
  CHECK(session.messages().shown()->words.find("below 1Δ") != std::string::npos);
  press_key(session, letter('X'));
  session.advance_to(860);
  press_key(session, static_cast<Scancode>(hid::kDigit1 + 5));
  session.advance_to(861);
  press_key(session, hid::kSpace, {.shift = true});
  session.advance_to(1400);
  session.advance_to(1800);
  REQUIRE(session.messages().shown());
  CHECK(session.messages().shown()->voice == Voice::patient);
  CHECK(session.messages().shown()->words == "It's single.");
  REQUIRE(session.messages().talk().size() == 1);
  CHECK(session.messages().talk()[0].asked == "Is it single or double?");
}

TEST_CASE("the translucent occluder reaches the room with keys and with the mouse") {
  Session session = make_session();
  press_key(session, letter('V'));
  SECTION("by keys") {
    press_key(session, letter('A'));
    session.advance_to(600);
  }
  SECTION("by mouse, without covering anything on the way in") {
    session.feed({0, pixel_of(31, 0)});
    session.feed({0, PointerPressed{Button::left}});
    session.advance_to(2);
    CHECK_FALSE(session.live().room().covered.right);
    session.advance_to(700);
  }
  SECTION("exchanged before the eye, from where it is") {
    press_key(session, letter('V'));
    press_key(session, letter('A'));
    session.advance_to(600);
    REQUIRE(session.live().room().occluder.kind == OccluderKind::opaque);
    const optics::OccluderPose there = session.live().room().occluder.pose;
    press_key(session, letter('V'));
    session.advance_to(602);
    CHECK(session.live().room().occluder.pose == there);
  }
  CHECK(session.live().room().covered.right);
  CHECK(session.live().room().occluder.kind == OccluderKind::translucent);
}

TEST_CASE("the view is a cut that is refused while the occluder moves, and is kept as an act") {
  Session session = make_session();
  press_key(session, letter('Z'));
  session.advance_to(10);
  CHECK(session.closeness() == Closeness::one_eye);
  CHECK(session.view().pixels_per_mm == Approx(1440.0 / 75));
  press_key(session, letter('A'));
  session.advance_to(100);
  press_key(session, letter('Z'));
  session.advance_to(110);
  CHECK(session.closeness() == Closeness::one_eye);
  CHECK(acts_of<act::MoveViewpoint>(session).empty());
  REQUIRE(acts_of<act::Magnify>(session).size() == 1);
  CHECK(acts_of<act::Magnify>(session).front().across_mm == 75.0);
  CHECK(acts_of<act::Magnify>(session).front().eye == session.view_eye());
  Session fixed = make_session(nullptr, {.view_fixed = true});
  press_key(fixed, letter('Z'));
  fixed.advance_to(700);
  CHECK(fixed.closeness() == Closeness::both);
  CHECK(acts_of<act::Magnify>(fixed).empty());
  REQUIRE(fixed.messages().shown());
  CHECK(fixed.messages().shown()->words == "Fixed for this circuit.");
}

TEST_CASE("the room's lights are dimmed and lit again, and the pupils follow") {
  Session session = make_session();
  session.advance_to(500);
  const double lit = session.live().moment(1).seen.eye.right.pupil_mm;
  press_key(session, letter('L'));
  session.advance_to(6000);
  CHECK(session.live().room().dim);
  CHECK(session.live().moment(1).seen.eye.right.pupil_mm > lit + 0.5);
  press_key(session, letter('L'));
  session.advance_to(6010);
  CHECK_FALSE(session.live().room().dim);
  REQUIRE(acts_of<act::RoomLight>(session).size() == 2);
}

TEST_CASE("gaze pad as one faces the patient: 4 is the patient's right") {
  Session session = make_session();
  press_key(session, static_cast<Scancode>(hid::kKeypad1 + 3));
  session.advance_to(1500);
  CHECK(session.target().horizontal_deg == 25);
  CHECK(session.live().moment(1).seen.eye.right.horizontal_deg > 20);
  press_key(session, static_cast<Scancode>(hid::kKeypad1 + 7));
  session.advance_to(1501);
  CHECK(session.target().vertical_deg == 25);
  CHECK(session.target().horizontal_deg == 0);
}

TEST_CASE("the near point comes until it is stopped") {
  Session session = make_session();
  press_key(session, letter('M'));
  session.advance_to(4000);
  CHECK(session.near_point_runs());
  press_key(session, letter('M'));
  session.advance_to(4010);
  const double stopped = session.target().distance_m;
  CHECK(stopped > 0.05);
  CHECK(stopped < 0.4);
  session.advance_to(5000);
  CHECK(session.live().room().target.place.distance_m == stopped);
}

TEST_CASE("what cannot be recorded is refused and told, never recorded") {
  Session session = make_session();
  session.feed({1, PointerMoved{1e12, -1e12}});
  session.feed({2, PointerPressed{Button::left}});
  session.advance_to(4000);
  CHECK_FALSE(session.live().record_problem());
  for (const act::MoveOccluder& move : acts_of<act::MoveOccluder>(session)) {
    CHECK(std::abs(move.x_mm) <= 2000);
  }
}

TEST_CASE("everything that can be said is said alike to every patient") {
  std::set<std::string_view> asked;
  for (const Phrase& phrase : kPhrases) {
    CHECK_FALSE(phrase.words.empty());
    if (!phrase.what.empty()) CHECK(asked.insert(phrase.what).second);
  }
  Session session = make_session();
  for (std::size_t i = 0; i < kPhrases.size(); ++i) {
    session.feed({static_cast<Tick>(10 + i * 20), Chosen{{Command::say, static_cast<double>(i)}}});
  }
  session.advance_to(18000);
  CHECK(session.messages().talk().size() == kPhrases.size());
  for (const Exchange& exchange : session.messages().talk()) {
    const bool told = exchange.answered.empty();
    const auto phrase = std::find_if(kPhrases.begin(), kPhrases.end(),
                                     [&](const Phrase& p) { return p.words == exchange.asked; });
    REQUIRE(phrase != kPhrases.end());
    const bool instruction = phrase->kind == PhraseKind::instruct;
    CHECK(told == instruction);
  }
}

TEST_CASE("from end to end of a line: its length and the movement are told as it is said") {
  // Five letters of 0.2 logMAR at 6 m with letter-wide gaps: 12.4 cm, 2.07Δ (practice, B1).
  Session session = make_session();
  std::size_t ends = 0;
  while (kPhrases[ends].instruction != Instruction::line_ends) ++ends;
  session.feed({100, Chosen{{Command::say, static_cast<double>(ends)}}});
  session.advance_to(900);
  REQUIRE(session.messages().shown());
  CHECK(session.messages().shown()->words ==
        "The line is 12.4 cm long: at 6 m that is a movement of 2.1Δ.");
}

TEST_CASE("whatever can be found on request can be asked for in the window") {
  std::vector<std::string_view> requests;
  for (const Phrase& phrase : kPhrases) {
    if (phrase.kind == PhraseKind::request) requests.push_back(phrase.what);
  }
  const auto all = file_requests();
  CHECK(requests == std::vector<std::string_view>(all.begin(), all.end()));
}

TEST_CASE("what cannot be done is said, and is no act") {
  struct Told {
    Scancode key;
    std::string_view words;
  };
  for (const Told& told : {Told{letter('W'), "Nothing is held before an eye."},
                           Told{hid::kLeft, "The occluder is not before the face."}}) {
    Session session = make_session();
    session.advance_to(1000);
    press_key(session, told.key);
    session.advance_to(2000);
    CHECK(session.live().acts().empty());
    REQUIRE(session.messages().shown());
    CHECK(session.messages().shown()->words == told.words);
  }
  // This patient has no spectacles.
  Session session = make_session();
  session.feed({session.now(), Chosen{{Command::spectacles, 1}}});
  session.advance_to(1000);
  CHECK_FALSE(session.live().room().spectacles_worn);
  REQUIRE(session.messages().shown());
  CHECK(session.messages().shown()->words == "There are no spectacles to put on.");
}
