// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A case is written: sections and fields at the left, what the engine makes of it at the right.
// What is computed again keeps its old content, in the third ink, until the new is there.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/editor/fields.hpp"
#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"
#include "render/screens/parts/plots.hpp"
#include "sim/assessment/difficulty.hpp"
#include "sim/truth/truth.hpp"

namespace redress::screens::editor {

/// Both eyes from the target while a standard examination goes on at 6 m, noise off.
struct StandardTraces {
  std::vector<float> right_pd;  ///< every kStepMs from 0; + to the patient's right
  std::vector<float> left_pd;
  std::vector<CoverInterval> right_covered;
  std::vector<CoverInterval> left_covered;
  static constexpr double kStepMs = 10;
};

/// What the engine found of a revision of the draft. The deviations come first: what they are
/// called, what does not agree and the traces may be of an older one.
struct Study {
  static constexpr auto kNone = static_cast<std::size_t>(-1);
  std::size_t revision = 0;
  std::size_t rest_revision = kNone;
  truth::Truth truth;
  std::vector<std::string> disagreements;  ///< with what is expected
  std::vector<std::string> warnings;       ///< odd, though allowed
  StandardTraces traces;

  [[nodiscard]] bool is_whole() const { return rest_revision == revision; }
};

/// What is typed and does not stand in the draft: a value that is not allowed, or yet to be
/// settled.
struct Typed {
  std::string pointer;
  std::string text;
  std::string problem;  ///< empty: it is in the draft
};

/// Compact: fields, what the engine makes of them and how hard it is have one place.
enum class Turn : std::uint8_t { fields, findings, difficulty };

struct EditorState {
  Section section = Section::story;
  Eye eye = Eye::right;
  std::vector<Typed> typed;
  std::string changed;       ///< pointer of the field whose sentence is shown
  std::string changed_name;  ///< and its label with the value
  float height = 0;          ///< of the fields
  Turn turn = Turn::fields;
};

struct EditorModel {
  explicit EditorModel(CaseDraft& the_draft) : draft(the_draft) {}
  CaseDraft& draft;
  std::string file;              ///< "sixth.json"; empty: no file yet
  std::string saved;             ///< "Saved 14:02", "Not saved yet"
  bool changed = false;          ///< since then
  std::string trouble;           ///< a save that did not work, or a change on disk
  bool asks_whose = false;       ///< the file changed on disk
  const Study* study = nullptr;  ///< none yet
  bool computing = false;
  const redress::assessment::Difficulty* difficulty = nullptr;  ///< none yet
  std::size_t difficulty_revision = 0;                          ///< of the draft that it is of
  bool judging = false;  ///< how hard it is, is being computed
};

struct EditorLayout {
  bool narrow = false;   ///< the list of sections becomes a row to choose from
  bool compact = false;  ///< fields and study have one place and take turns
  Rect bar;
  Rect sections;
  Rect fields;
  Rect picture;  ///< of the patient; empty where there is no room
  Rect gazes;    ///< beside it
  Rect findings;
  Rect advice;      ///< what does not agree
  Rect difficulty;  ///< beside it; compact: in its place and the findings'
  Rect traces;      ///< empty where there is no room
};
EditorLayout make_editor_layout(const WindowSize& window);

enum class EditorOrder : std::uint8_t {
  leave,
  save,
  examine,    ///< it myself
  keep_mine,  ///< of a file that changed on disk
  take_theirs,
  take_computed,  ///< the name that the findings come to becomes what is expected
};

/// Changes go into the draft.
std::optional<EditorOrder> draw_editor(Ui& ui, const EditorLayout& layout, EditorModel& model,
                                       EditorState& state);

/// The right side: gazes, findings, what does not agree (study_panel.cpp).
std::optional<EditorOrder> draw_study(Ui& ui, const EditorLayout& layout, const EditorModel& model,
                                      EditorState& state);
/// How hard it is (difficulty_panel.cpp).
void draw_difficulty(Ui& ui, const Rect& r, const EditorModel& model);

}  // namespace redress::screens::editor
