// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where the rows of the report are measured: invented patients, acts in order, the rows of every
// millisecond. Angles in degrees, times in milliseconds; signs: sim/basics/eye.hpp.
//
// A row ends early by one of two exceptions, which run_row turns into a verdict; nothing else in
// the engine throws.
#pragma once

#include <any>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "sim/cases/case.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"
#include "sim/room/observation.hpp"
#include "sim/truth/dissociated.hpp"

namespace redress::evidence {

/// This version does not simulate what the row asks for.
struct NotSimulated {
  std::string why;
};
/// The engine simulates it, and what was waited for did not come.
struct DidNotHappen {
  std::string what;
};

/// A case with these members beside format, version and title, e.g.
/// R"("deviation": {"distance_pd": -6})". Throws NotSimulated if this version refuses it.
Case case_with(const std::string& members);
ExaminationSetup setup_with(const std::string& members);
std::string deviation_of(double distance_pd, double near_pd, double ac_a = 4.0);

Act cover(Tick at_ms, Eye eye, OccluderKind kind = OccluderKind::opaque);
Act uncover(Tick at_ms);
Act hold_prism(Tick at_ms, Eye eye, double label, double base_deg);
Act remove_prism(Tick at_ms, Eye eye);
Act show(Tick at_ms, double distance_m, double horizontal_deg = 0.0, double vertical_deg = 0.0,
         TargetKind kind = TargetKind::letters, double size_logmar = 0.2);
Act lenses(Tick at_ms, double power_d);
Act ask(Tick at_ms, const std::string& what);

/// Base angles (ISO 8429).
constexpr double base_in(Eye eye) { return eye == Eye::right ? 0.0 : 180.0; }
constexpr double base_out(Eye eye) { return eye == Eye::right ? 180.0 : 0.0; }

/// 100 tan and back.
double to_pd(double degrees);
double to_deg(double prism_dioptres);

/// Every row of an examination, by its millisecond.
struct Trace {
  std::vector<Observation> rows;
  std::vector<Reply> replies;
  double interpupillary_mm = 63.0;

  [[nodiscard]] const Observation& at(Tick t) const;
  [[nodiscard]] Tick last() const { return static_cast<Tick>(rows.size()) - 1; }
  [[nodiscard]] double horizontal(Tick t, Eye eye) const { return at(t).eye[eye].horizontal_deg; }
  [[nodiscard]] double vertical(Tick t, Eye eye) const { return at(t).eye[eye].vertical_deg; }
  /// The eyes' vergence less that of a target straight ahead, as 100 tan; eso +.
  [[nodiscard]] double deviation_pd(Tick t, double distance_m = 6.0) const;
  /// Right eye higher +.
  [[nodiscard]] double vertical_pd(Tick t) const;
  /// Speed of an eye's line of sight over two milliseconds, degrees per second.
  [[nodiscard]] double speed(Tick t, Eye eye) const;

  using Holds = std::function<bool(Tick)>;
  /// First millisecond from `t` on for which it holds. Throws DidNotHappen.
  [[nodiscard]] Tick when(Tick t, const std::string& what, const Holds& holds) const;
  [[nodiscard]] Tick covered_after(Tick t, Eye eye) const;
  [[nodiscard]] Tick free_after(Tick t, Eye eye) const;
  /// First millisecond after t in which the eye has turned by `degrees` from where it was at t.
  [[nodiscard]] Tick moved_after(Tick t, Eye eye, double degrees) const;
  /// Furthest horizontal turn of an eye from where it is at `from`, degrees, up to `to`.
  [[nodiscard]] double furthest(Tick from, Tick to, Eye eye) const;
};

/// A first saccade: from when the eye is faster than 30 degrees per second to when it is slower.
struct SaccadeMade {
  Tick start_ms = 0;
  Tick peak_ms = 0;
  Tick end_ms = 0;
  double size_deg = 0.0;
  double peak_deg_s = 0.0;
  [[nodiscard]] double duration_ms() const { return static_cast<double>(end_ms - start_ms); }
};
SaccadeMade find_saccade(const Trace& trace, Tick from, Eye eye);

Trace run_story(const std::string& members, const std::vector<Act>& acts, Tick until,
                double noise = 0.0, std::uint64_t seed = 1);

/// Keeps what rows share.
class Bench {
 public:
  /// make() once for each name. It may throw; the next row then tries again.
  template <class Make>
  const auto& once(const std::string& name, Make make) {
    using T = decltype(make());
    auto found = kept_.find(name);
    if (found == kept_.end()) found = kept_.emplace(name, std::any{make()}).first;
    return *std::any_cast<T>(&found->second);
  }

 private:
  std::map<std::string, std::any> kept_;
};

double calc_mean(const std::vector<double>& values);
/// With n - 1.
double calc_sd(const std::vector<double>& values);
/// Of the values in order; the upper one of two middle ones.
double calc_median(std::vector<double> values);

}  // namespace redress::evidence
