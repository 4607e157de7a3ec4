// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One case in the editor: the draft, its file, what the engine makes of it, the live patient. What
// is typed is kept beside the user's other data from moment to moment, so that a crash or a disk
// that refuses loses nothing.
#pragma once

#include <atomic>
#include <future>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "render/app/stage.hpp"
#include "render/screens/editor/editor.hpp"
#include "sim/assessment/difficulty.hpp"
#include "sim/room/examination.hpp"

namespace redress::app {

/// Wilson's interval of half of them is 43 to 57 %.
inline constexpr std::size_t kPeopleOfEachSkill = 200;

struct EditingOutcome {
  bool leave = false;
  bool examine = false;  ///< the draft as it stands: shelved()
};

class Editing {
 public:
  /// `path` empty: a new case, whose file goes into `new_folder`, and so does that of a `copy`,
  /// which is begun from the file at `path` and leaves it alone. `kept_folder`: where unsaved work
  /// is kept; empty: nowhere. Problems: the file is no case.
  static Result<std::unique_ptr<Editing>> open(const std::string& path,
                                               const std::string& new_folder,
                                               const std::string& kept_folder, bool copy = false);
  ~Editing();

  [[nodiscard]] const CaseDraft& draft() const { return draft_; }
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] const std::string& trouble() const { return trouble_; }
  [[nodiscard]] bool asks_whose() const { return asks_whose_; }
  [[nodiscard]] const std::optional<screens::editor::Study>& study() const { return study_; }

  [[nodiscard]] const std::optional<assessment::Difficulty>& difficulty() const {
    return difficulty_;
  }

  /// Takes what was computed, begins what is to be; keeps what was typed.
  void advance(double now_ms);
  /// For tests: until the findings are those of the draft.
  void wait();
  /// For tests: until the deviations among them are.
  void wait_for_deviations();
  /// And until it is known how hard the draft is.
  void wait_for_difficulty();
  void draw_patient(Stage& stage, const screens::WindowSize& window);
  EditingOutcome draw(screens::Ui& ui, const screens::WindowSize& window, const std::string& clock);

  /// Whole or not at all; what stood there before is kept beside it, ending in ".before".
  void save(const std::string& clock);
  void keep_mine(const std::string& clock);
  void take_theirs();
  /// The draft changes without a hand: for tests and "take the computed".
  CaseDraft& edit() { return draft_; }
  void take_computed();

 private:
  /// `from`: the file that the draft was read from; empty: none.
  Editing(CaseDraft draft, std::string path, const std::string& from, std::string new_folder,
          std::string kept_folder);
  [[nodiscard]] std::string kept_path() const;
  void keep();
  void forget_kept();
  void pose();
  void judge(double now_ms);
  [[nodiscard]] bool is_other_on_disk();

  CaseDraft draft_;
  std::string path_;       // empty: no file yet
  std::string name_;       // of the file, or of that which a copy was begun from
  std::string kept_name_;  // of what is not saved: of one file, whatever others are called so
  std::string new_folder_;
  std::string kept_folder_;
  std::string on_disk_;  // as it was read or written last
  std::string saved_words_ = "Not saved yet";
  std::string trouble_;
  bool asks_whose_ = false;
  bool overwrites_ = false;  // the user said: mine
  screens::editor::EditorState state_;
  /// What the engine makes of a draft, and the setup that it was made from.
  struct Found {
    screens::editor::Study study;
    std::shared_ptr<const ExaminationSetup> setup;
  };
  /// Left here by the one who computes, as soon as the deviations are known.
  struct FirstFound {
    std::mutex mutex;
    std::optional<Found> found;
  };
  static Found find_out(const Case& the_case, std::size_t revision, const Found& before,
                        FirstFound& first);
  void take_found(Found found);

  std::optional<screens::editor::Study> study_;
  std::shared_ptr<const ExaminationSetup> setup_;  // of the study
  std::shared_ptr<FirstFound> first_;
  std::future<Found> studying_;
  /// Goes on until nobody waits for it any more.
  struct Judging {
    std::size_t revision = 0;
    std::shared_ptr<std::atomic<bool>> wanted;
    std::future<std::optional<assessment::Difficulty>> found;
  };
  std::optional<assessment::Difficulty> difficulty_;
  std::size_t difficulty_revision_ = 0;
  std::vector<Judging> judging_;  // the last one is wanted, those before end by themselves
  std::size_t seen_revision_ = static_cast<std::size_t>(-1);
  double changed_ms_ = 0;
  std::size_t kept_revision_ = 0;
  std::size_t posed_revision_ = static_cast<std::size_t>(-1);
  std::shared_ptr<const ExaminationSetup> posed_setup_;
  std::optional<Examination> patient_;
  scene::PatientAppearance appearance_;
  double last_ms_ = 0;
  double looked_ms_ = 0;  // at the disk
};

}  // namespace redress::app
