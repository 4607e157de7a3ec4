// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// results: scores what is in the store and reports on it, on the screen, on paper, as tables and as
// statements to a learning record store.
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "sim/assessment/marks.hpp"
#include "sim/assessment/moderation.hpp"
#include "sim/assessment/released_debrief.hpp"
#include "sim/assessment/report.hpp"
#include "sim/assessment/results.hpp"
#include "sim/assessment/score_store.hpp"
#include "sim/assessment/store.hpp"
#include "sim/basics/file.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/paper.hpp"
#include "sim/program/passphrase.hpp"
#include "sim/program/post_statements.hpp"
#include "sim/program/spread.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/record_format.hpp"

namespace redress::program {

using namespace assessment;

namespace {

Result<std::vector<Ledger>> load_ledgers(const std::vector<std::string>& paths,
                                         const CircuitId& circuit) {
  std::vector<Ledger> ledgers;
  for (const std::string& path : paths) {
    const Result<std::string> text = read_file(path);
    auto ledger = text ? read_ledger(text.value(), circuit) : Result<Ledger>(text.problems());
    if (!ledger) {
      Problems problems = ledger.problems();
      for (Problem& p : problems) p.place = path + (p.place.empty() ? "" : ": " + p.place);
      return problems;
    }
    ledgers.push_back(std::move(ledger).value());
  }
  return ledgers;
}

using Files = std::vector<std::pair<std::string, std::string>>;  // path, content

// Adds what goes to `path`, if there is a path.
std::optional<Problem> add_pdf(const std::string& path, const ReportDocument& document,
                               Files& files) {
  if (path.empty()) return std::nullopt;
  Result<std::string> pdf = make_pdf(document);
  if (!pdf) return pdf.problems().front();
  files.emplace_back(path, std::move(pdf).value());
  return std::nullopt;
}

// Of the cohort, or of the candidate that is asked for.
std::optional<Problem> add_reports(const ResultsOptions& options, const Cohort& cohort,
                                   const CohortFigures& figures, const ReportHead& head,
                                   Files& files) {
  if (options.candidate.empty()) {
    if (!options.certificate_path.empty()) {
      return Problem{"", "a certificate is one candidate's; allowed: --candidate with it"};
    }
    const ReportDocument document = make_cohort_document(cohort, figures, head);
    files.emplace_back(options.html_path, make_html(document));
    return add_pdf(options.pdf_path, document, files);
  }
  const auto row = std::find_if(cohort.rows.begin(), cohort.rows.end(), [&](const CohortRow& r) {
    return r.candidate == options.candidate;
  });
  if (row == cohort.rows.end()) {
    return Problem{"", "there is no candidate " + options.candidate};
  }
  const auto index = static_cast<std::size_t>(row - cohort.rows.begin());
  const ReportDocument document = make_candidate_document(cohort, figures, index, head);
  files.emplace_back(options.html_path, make_html(document));
  if (auto problem = add_pdf(options.pdf_path, document, files)) return problem;
  if (options.certificate_path.empty()) return std::nullopt;
  const Decision decision = figures.candidates_in_order[index].decision;
  if (decision != Decision::pass) {
    return Problem{"", fmt::format("candidate {} has no certificate: {}", options.candidate,
                                   to_words(decision))};
  }
  return add_pdf(options.certificate_path, make_certificate(cohort, figures, index, head), files);
}

// Every counted station's debrief, or those of the candidate that is asked for.
std::optional<Problem> add_debriefs(const ResultsOptions& options, Store& store,
                                    const OpenedCircuit& circuit,
                                    const std::vector<ScoredStation>& stations,
                                    const std::vector<Ledger>& ledgers, Files& files) {
  if (options.release_folder.empty()) return std::nullopt;
  std::error_code error;
  std::filesystem::create_directories(options.release_folder, error);
  for (const ScoredStation& each : stations) {
    const StoredStation& at = each.station;
    if (!options.candidate.empty() && at.candidate != options.candidate) continue;
    if (find_counted(stations, at.candidate, at.station) != &each) continue;
    const auto content = store.read_content(at.id);
    const auto released =
        content
            ? release_debrief(content.value(), circuit,
                              apply_ledgers(each.score.sheet, at.candidate, at.station, ledgers))
            : Result<ReleasedDebrief>(content.problems());
    if (!released) {
      Problem problem = released.problems().front();
      problem.place = fmt::format("candidate {}, station {}", at.candidate, at.station + 1);
      return problem;
    }
    files.emplace_back(options.release_folder + "/" + make_released_name(at.candidate, at.station),
                       to_text(released.value()));
  }
  return std::nullopt;
}

Result<RecordStore> find_record_store(const ResultsOptions& options) {
  RecordStore store{options.post_to, "", options.post_authority};
  while (store.address.ends_with("/")) store.address.pop_back();
  if (options.post_login_path.empty()) return store;
  const Result<std::string> text = read_file(options.post_login_path, 4096);
  if (!text) return text.problems();
  store.login = text.value().substr(0, text.value().find('\n'));
  if (store.login.find(':') == std::string::npos) {
    return Problems{{options.post_login_path, "has no name:password in its first line"}};
  }
  return store;
}

int post(const ResultsOptions& options, const nlohmann::ordered_json& statements) {
  const Result<RecordStore> store = find_record_store(options);
  if (!store) return report("results", store.problems());
  const auto posted = post_statements(statements, store.value(), [](std::int64_t seconds) {
    fmt::print(stderr, "results: the record store does not answer; again in {} s\n", seconds);
    ::sleep(static_cast<unsigned>(seconds));
  });
  if (!posted) return report(options.post_to, posted.problems());
  fmt::print(stderr, "results: {} statements posted, {} were there already\n", posted.value().taken,
             posted.value().already_there);
  return 0;
}

}  // namespace

int results(const ResultsOptions& options) {
  std::vector<std::string> inputs = options.ledgers;
  inputs.push_back(options.sealed_path);
  if (const auto problem =
          check_paths(inputs, {options.html_path, options.pdf_path, options.certificate_path,
                               options.csv_path, options.moderation_path, options.xapi_path})) {
    return report("results", *problem);
  }
  const XapiContext context{options.home_page, options.home_page + "/redress", options.when};
  const bool statements_wanted = !options.xapi_path.empty() || !options.post_to.empty();
  if (statements_wanted) {
    if (const Problems problems = check_xapi(context); !problems.empty()) {
      return report("results", problems);
    }
  }
  const auto circuit = open_with_passphrase(options.sealed_path);
  if (!circuit) return report(options.sealed_path, circuit.problems());
  const OpenedCircuit& o = circuit.value();
  const auto ledgers = load_ledgers(options.ledgers, o.keys.id());
  if (!ledgers) return report("marks", ledgers.problems());
  Result<Store> opened = Store::open(options.store);
  if (!opened) return report("store", opened.problems());
  Store store = std::move(opened).value();
  auto scored = score_store(
      store, o, [](std::size_t count, const auto& work) { spread(count, find_threads(0), work); });
  if (!scored) return report("store", scored.problems());
  for (const Problem& p : scored.value().left_out) (void)report(p.place, Problem{"", p.message});
  const std::vector<ScoredStation>& stations = scored.value().stations;
  const GatheredCohort gathered = gather_cohort(o.circuit, stations, ledgers.value());
  for (const std::string& remark : gathered.remarks) fmt::print(stderr, "results: {}\n", remark);
  const Cohort& cohort = gathered.cohort;
  if (cohort.rows.empty()) {
    return report("results", Problem{"", "no candidate has every station of this circuit"});
  }
  const CohortFigures figures = calc_figures(cohort);
  const ReportHead head{to_short_text(o.keys.id()), std::string(record::kEngineVersion),
                        options.when, false};
  Files files;
  if (const auto problem = add_reports(options, cohort, figures, head, files)) {
    return report("results", *problem);
  }
  files.emplace_back(options.csv_path, make_csv(cohort, figures));
  if (!options.moderation_path.empty()) {
    files.emplace_back(options.moderation_path,
                       make_moderation_csv(o.circuit, to_text(o.keys.id()), stations,
                                           ledgers.value(), cohort, figures));
  }
  if (const auto problem = add_debriefs(options, store, o, stations, ledgers.value(), files)) {
    return report("release", *problem);
  }
  nlohmann::ordered_json statements;
  if (statements_wanted) {
    statements = make_xapi(cohort, figures, to_text(o.keys.id()), context);
    files.emplace_back(options.xapi_path, statements.dump(2) + "\n");
  }
  for (const auto& [path, content] : files) {
    if (path.empty()) continue;
    if (const auto problem = write_whole_file(path, content)) return report(path, *problem);
  }
  fmt::print("{}\n", make_json(cohort, figures, head).dump(2));
  return options.post_to.empty() ? 0 : post(options, statements);
}

}  // namespace redress::program
