// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The keys of every act, once: reading and writing both walk these lists. To add an act: a struct
// in sim/room/act.hpp, a list here, a name in kActNames.
//
// A list calls on its visitor, for each key,
//   word, word_list, number, integer, boolean, text, base, answer_key
// with the variable that holds the value and, unless the variable is optional, whether the key must
// be there. Ranges are inclusive. The ranges are wide: they keep out slips and nonsense, not
// clumsiness, which is for the score to judge. Units as in the keys.
#pragma once

#include <cstdint>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "sim/basics/json_reader.hpp"
#include "sim/room/act.hpp"
#include "sim/room/plan_part_words.hpp"

namespace redress::record {

enum class Need : std::uint8_t { required, may_be_absent };

struct Range {
  double low;
  double high;
};

/// The directions of a prism's base, as words.
enum class BaseWord : std::uint8_t { in, out, up, down };

// ------------------------------------------------------------------------------------------ words

inline constexpr NamedValue<Eye> kEyeWords[] = {{"right", Eye::right}, {"left", Eye::left}};
inline constexpr NamedValue<OccluderKind> kOccluderWords[] = {
    {"opaque", OccluderKind::opaque}, {"translucent", OccluderKind::translucent}};
inline constexpr NamedValue<Side> kSideWords[] = {{"above", Side::above},
                                                  {"below", Side::below},
                                                  {"temporal", Side::temporal},
                                                  {"nasal", Side::nasal}};
inline constexpr NamedValue<PrismMaterial> kMaterialWords[] = {{"plastic", PrismMaterial::plastic},
                                                               {"glass", PrismMaterial::glass}};
inline constexpr NamedValue<PrismHold> kHoldWords[] = {{"frontal", PrismHold::frontal},
                                                       {"prentice", PrismHold::prentice},
                                                       {"minimum", PrismHold::minimum}};
inline constexpr NamedValue<BaseWord> kBaseWords[] = {
    {"in", BaseWord::in}, {"out", BaseWord::out}, {"up", BaseWord::up}, {"down", BaseWord::down}};
inline constexpr NamedValue<TargetKind> kTargetWords[] = {{"letters", TargetKind::letters},
                                                          {"letter", TargetKind::letter},
                                                          {"picture", TargetKind::picture},
                                                          {"spot", TargetKind::spot}};
inline constexpr NamedValue<LightLevel> kLightWords[] = {{"bright", LightLevel::bright},
                                                         {"dim", LightLevel::dim}};
inline constexpr NamedValue<Instruction> kInstructionWords[] = {
    {"look", Instruction::look},
    {"keep_clear", Instruction::keep_clear},
    {"follow", Instruction::follow},
    {"line_ends", Instruction::line_ends},
    {"hold_still", Instruction::hold_still},
    {"relax", Instruction::relax}};

inline constexpr NamedValue<FindingTest> kTestWords[] = {
    {"cover_test", FindingTest::cover_test},
    {"prism_cover", FindingTest::prism_cover},
    {"four_dioptre", FindingTest::four_dioptre},
    {"near_point", FindingTest::near_point},
    {"reserves", FindingTest::reserves},
    {"ac_a", FindingTest::ac_a},
    {"impression", FindingTest::impression},
    {"plan", FindingTest::plan},
    {"gaze", FindingTest::gaze},
    {"control", FindingTest::control},
    {"reflexes", FindingTest::reflexes},
    {"motility", FindingTest::motility}};
inline constexpr NamedValue<FindingKind> kFindingKindWords[] = {
    {"none", FindingKind::none}, {"phoria", FindingKind::phoria}, {"tropia", FindingKind::tropia}};
inline constexpr NamedValue<Constancy> kConstancyWords[] = {
    {"constant", Constancy::constant}, {"intermittent", Constancy::intermittent}};
inline constexpr NamedValue<FindingEye> kFindingEyeWords[] = {
    {"right", FindingEye::right},
    {"left", FindingEye::left},
    {"alternating", FindingEye::alternating},
    {"both", FindingEye::both}};
inline constexpr NamedValue<SizeMethod> kMethodWords[] = {
    {"estimated", SizeMethod::estimated},
    {"measured", SizeMethod::measured},
    {"simultaneous", SizeMethod::simultaneous},
    {"krimsky", SizeMethod::krimsky},
    {"hirschberg", SizeMethod::hirschberg}};
inline constexpr NamedValue<SeenWay> kSeenWayWords[] = {{"none", SeenWay::none},
                                                        {"in", SeenWay::in},
                                                        {"out", SeenWay::out},
                                                        {"up", SeenWay::up},
                                                        {"down", SeenWay::down}};
inline constexpr NamedValue<SeenPattern> kPatternWords[] = {
    {"none", SeenPattern::none}, {"a", SeenPattern::a}, {"v", SeenPattern::v}};
inline constexpr NamedValue<Confidence> kConfidenceWords[] = {
    {"sure", Confidence::sure}, {"fair", Confidence::fair}, {"unsure", Confidence::unsure}};
inline constexpr NamedValue<Driving> kDrivingWords[] = {
    {"no_bar", Driving::no_bar},
    {"not_until_controlled", Driving::not_until_controlled},
    {"notify_authority", Driving::notify_authority}};
inline constexpr NamedValue<RecoveryGrade> kRecoveryWords[] = {
    {"rapid", RecoveryGrade::rapid},
    {"moderate", RecoveryGrade::moderate},
    {"slow", RecoveryGrade::slow},
    {"none", RecoveryGrade::none}};
inline constexpr NamedValue<FourDioptreResponse> kResponseWords[] = {
    {"typical", FourDioptreResponse::typical},
    {"no_movement", FourDioptreResponse::no_movement},
    {"version_without_return", FourDioptreResponse::version_without_return}};
inline constexpr NamedValue<Urgency> kUrgencyWords[] = {{"same_day", Urgency::same_day},
                                                        {"urgent", Urgency::urgent},
                                                        {"soon", Urgency::soon},
                                                        {"routine", Urgency::routine}};

// ----------------------------------------------------------------------------------------- ranges

inline constexpr std::int64_t kLongestTravelMs = 60'000;
inline constexpr Range kPowersPd{0.01, 100.0};
inline constexpr Range kTargetDistancesM{0.05, 1000.0};
inline constexpr Range kSizesLogmar{-0.3, 3.0};
inline constexpr Range kTargetAnglesDeg{-60.0, 60.0};
inline constexpr Range kLineWidthsMm{0.0, 2000.0};
inline constexpr Range kHandPlacesMm{-2000.0, 2000.0};
inline constexpr Range kViewWidthsMm{10.0, 1000.0};
inline constexpr Range kHeadPlacesMm{-10000.0, 10000.0};
inline constexpr Range kHalfTurnsDeg{-180.0, 180.0};
inline constexpr Range kBaseAnglesDeg{-360.0, 360.0};
inline constexpr Range kPrismTiltsDeg{-60.0, 60.0};
inline constexpr Range kHeadTiltsDeg{-60.0, 60.0};
inline constexpr Range kTrialLensesD{-20.0, 20.0};
inline constexpr Range kNotedSizesPd{-200.0, 200.0};
inline constexpr Range kNotedValues{-200.0, 1000.0};
inline constexpr Range kNotedRatios{-100.0, 100.0};
inline constexpr Range kNotedAnglesDeg{-90.0, 90.0};
inline constexpr Range kNotedWeeks{0.0, 520.0};
inline constexpr std::size_t kLongestQuestion = 80;  ///< bytes
inline constexpr std::size_t kLongestNote = 4000;    ///< bytes of UTF-8

// ------------------------------------------------------------------------------------------ lists

template <class Fields>
void list_fields(Fields& f, act::Cover& a) {
  f.word("eye", kEyeWords, a.eye, Need::required);
  f.word("occluder", kOccluderWords, a.occluder, Need::may_be_absent);
  f.word("from", kSideWords, a.from, Need::may_be_absent);
  f.integer("travel_ms", 0, kLongestTravelMs, a.travel_ms, Need::may_be_absent);
}

template <class Fields>
void list_fields(Fields& f, act::Uncover& a) {
  f.word("towards", kSideWords, a.towards, Need::may_be_absent);
  f.integer("travel_ms", 0, kLongestTravelMs, a.travel_ms, Need::may_be_absent);
}

template <class Fields>
void list_fields(Fields& f, act::MoveOccluder& a) {
  f.number("x_mm", kHandPlacesMm, a.x_mm, Need::required);
  f.number("y_mm", kHandPlacesMm, a.y_mm, Need::required);
  f.number("z_mm", kHandPlacesMm, a.z_mm, Need::required);
  f.number("roll_deg", kHalfTurnsDeg, a.roll_deg, Need::may_be_absent);
  f.integer("travel_ms", 0, kLongestTravelMs, a.travel_ms, Need::may_be_absent);
}

template <class Fields>
void list_fields(Fields& f, act::HoldPrism& a) {
  f.word("eye", kEyeWords, a.eye, Need::required);
  f.number("power_pd", kPowersPd, a.power.value, Need::required);
  f.base(a.eye, a.base.value);
  f.word("material", kMaterialWords, a.material, Need::may_be_absent);
  f.word("held", kHoldWords, a.held, Need::may_be_absent);
  f.number("tilt_deg", kPrismTiltsDeg, a.tilt.value, Need::may_be_absent);
  f.integer("slot", 1, 3, a.slot, Need::may_be_absent);
}

template <class Fields>
void list_fields(Fields& f, act::RemovePrism& a) {
  f.word("eye", kEyeWords, a.eye, Need::required);
  f.integer("slot", 1, 3, a.slot);
}

template <class Fields>
void list_fields(Fields& f, act::ShowTarget& a) {
  f.word("kind", kTargetWords, a.kind, Need::required);
  f.number("distance_m", kTargetDistancesM, a.distance_m, Need::required);
  f.number("size_logmar", kSizesLogmar, a.size_logmar, Need::required);
  f.number("horizontal_deg", kTargetAnglesDeg, a.horizontal_deg, Need::may_be_absent);
  f.number("vertical_deg", kTargetAnglesDeg, a.vertical_deg, Need::may_be_absent);
  f.number("width_mm", kLineWidthsMm, a.width_mm, Need::may_be_absent);
  f.integer("travel_ms", 0, kLongestTravelMs, a.travel_ms, Need::may_be_absent);
}

template <class Fields>
void list_fields(Fields& f, act::Spectacles& a) {
  f.boolean("worn", a.worn, Need::required);
}

template <class Fields>
void list_fields(Fields& f, act::TrialLenses& a) {
  f.number("right_d", kTrialLensesD, a.power_d.right, Need::required);
  f.number("left_d", kTrialLensesD, a.power_d.left, Need::required);
}

template <class Fields>
void list_fields(Fields& f, act::TiltHead& a) {
  f.number("roll_deg", kHeadTiltsDeg, a.roll_deg, Need::required);
  f.number("turn_deg", kHeadTiltsDeg, a.turn_deg, Need::may_be_absent);
  f.number("chin_deg", kHeadTiltsDeg, a.chin_deg, Need::may_be_absent);
  f.integer("travel_ms", 0, kLongestTravelMs, a.travel_ms, Need::may_be_absent);
}

template <class Fields>
void list_fields(Fields& f, act::Penlight& a) {
  f.boolean("on", a.on, Need::required);
}

template <class Fields>
void list_fields(Fields& f, act::RoomLight& a) {
  f.word("level", kLightWords, a.level, Need::required);
}

template <class Fields>
void list_fields(Fields& f, act::Instruct& a) {
  f.word("what", kInstructionWords, a.what, Need::required);
}

template <class Fields>
void list_fields(Fields& f, act::Ask& a) {
  f.answer_key("what", a.what);
}

template <class Fields>
void list_fields(Fields& f, act::Request& a) {
  f.answer_key("what", a.what);
}

template <class Fields>
void list_fields(Fields& f, act::MoveViewpoint& a) {
  f.number("x_mm", kHeadPlacesMm, a.x_mm, Need::required);
  f.number("y_mm", kHeadPlacesMm, a.y_mm, Need::required);
  f.number("z_mm", kHeadPlacesMm, a.z_mm, Need::required);
}

template <class Fields>
void list_fields(Fields& f, act::Magnify& a) {
  f.number("across_mm", kViewWidthsMm, a.across_mm, Need::required);
  f.word("eye", kEyeWords, a.eye);
}

template <class Fields>
void list_fields(Fields& f, Finding& a) {
  f.word("test", kTestWords, a.test, Need::required);
  f.number("distance_m", kTargetDistancesM, a.distance_m);
  f.boolean("spectacles", a.spectacles);
  f.word("kind", kFindingKindWords, a.kind);
  f.word("constancy", kConstancyWords, a.constancy);
  f.word("eye", kFindingEyeWords, a.eye);
  f.number("horizontal_pd", kNotedSizesPd, a.horizontal_pd);
  f.number("vertical_pd", kNotedSizesPd, a.vertical_pd);
  f.word("method", kMethodWords, a.method);
  f.word("recovery", kRecoveryWords, a.recovery);
  f.word("response", kResponseWords, a.response);
  f.boolean("comitant", a.comitant);
  f.number("break_value", kNotedValues, a.break_value);
  f.number("recovery_value", kNotedValues, a.recovery_value);
  f.number("blur_value", kNotedValues, a.blur_value);
  f.word_text("base", kBaseWords, a.base);
  f.number("ac_a_pd_per_d", kNotedRatios, a.ac_a_pd_per_d);
  f.text("diagnosis", kLongestNote, a.diagnosis);
  f.text("advice", kLongestNote, a.advice);
  f.word("urgency", kUrgencyWords, a.urgency);
  f.text("remark", kLongestNote, a.remark);
  f.word_text("target", kTargetWords, a.target);
  f.word("fixing", kFindingEyeWords, a.fixing);
  f.text("head_posture", kLongestNote, a.head_posture);
  f.number("gaze_horizontal_deg", kNotedAnglesDeg, a.gaze_horizontal_deg);
  f.number("gaze_vertical_deg", kNotedAnglesDeg, a.gaze_vertical_deg);
  f.number("head_roll_deg", kNotedAnglesDeg, a.head_roll_deg);
  f.word("confidence", kConfidenceWords, a.confidence);
  f.text("not_done", kLongestNote, a.not_done);
  f.word("right_on_cover", kSeenWayWords, a.on_cover.right);
  f.word("left_on_cover", kSeenWayWords, a.on_cover.left);
  f.word("right_on_uncover", kSeenWayWords, a.on_uncover.right);
  f.word("left_on_uncover", kSeenWayWords, a.on_uncover.left);
  f.word("right_falls_short", kSeenWayWords, a.falls_short.right);
  f.word("left_falls_short", kSeenWayWords, a.falls_short.left);
  f.boolean("holds_to_blink", a.holds_to_blink);
  f.integer("covers_to_break", 0, 1000, a.covers_to_break);
  f.boolean("nystagmus", a.nystagmus);
  f.boolean("dvd", a.dvd);
  f.word("pattern", kPatternWords, a.pattern);
  f.number("torsion_deg", kNotedAnglesDeg, a.torsion_deg);
  f.boolean("double_vision", a.double_vision);
  f.integer("control", 0, 5, a.control);
  f.word_list("parts", kPlanPartWords, a.parts);
  f.word("driving", kDrivingWords, a.driving);
  f.number("next_weeks", kNotedWeeks, a.next_weeks);
}

template <class Fields>
void list_fields(Fields& f, act::Note& a) {
  f.object("finding", a.finding);
}

// ------------------------------------------------------------------------------------------ names

/// In the order of the alternatives of ActContent.
inline constexpr std::string_view kActNames[] = {
    "cover",      "uncover",      "move_occluder",  "hold_prism", "remove_prism", "show_target",
    "spectacles", "trial_lenses", "tilt_head",      "penlight",   "room_light",   "instruct",
    "ask",        "request",      "move_viewpoint", "magnify",    "note"};
static_assert(std::size(kActNames) == std::variant_size_v<ActContent>);

}  // namespace redress::record
