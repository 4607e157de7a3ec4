// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reports: of a cohort and of one candidate as documents (sim/assessment/report_document.hpp),
// which become HTML here and paper in render/paper; as CSV and JSON, and as xAPI statements (IEEE
// 9274.1.1). Times are texts that the caller passes in.
#pragma once

#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/report_document.hpp"
#include "sim/basics/problem.hpp"

namespace redress::assessment {

/// What stands at the head.
struct ReportHead {
  std::string circuit_seal;  ///< as to_short_text; empty: not sealed
  std::string engine;        ///< version
  std::string when;          ///< as the assessor writes dates
  bool rehearsal = false;    ///< nobody sat it: says so in the heading
};

/// What a mark is worth: on every candidate's page and every certificate.
inline constexpr std::string_view kClaim =
    "Performance on simulated patients; hand skill, child handling and communication are to be "
    "shown on people.";

ReportDocument make_cohort_document(const Cohort& cohort, const CohortFigures& figures,
                                    const ReportHead& head);
/// One page for a candidate: `index` into the cohort's rows. Names no patient and nobody else.
ReportDocument make_candidate_document(const Cohort& cohort, const CohortFigures& figures,
                                       std::size_t index, const ReportHead& head);
/// For who has passed: the caller looks at the decision.
ReportDocument make_certificate(const Cohort& cohort, const CohortFigures& figures,
                                std::size_t index, const ReportHead& head);

std::string make_html(const ReportDocument& document);
/// The documents as HTML.
std::string make_cohort_report(const Cohort& cohort, const CohortFigures& figures,
                               const ReportHead& head);
std::string make_candidate_report(const Cohort& cohort, const CohortFigures& figures,
                                  std::size_t index, const ReportHead& head);

/// One row a candidate: candidate, one column a station, total, decision, near_line, unsafe.
std::string make_csv(const Cohort& cohort, const CohortFigures& figures);
nlohmann::ordered_json make_json(const Cohort& cohort, const CohortFigures& figures,
                                 const ReportHead& head);

/// Who may learn of results, and about whom.
struct XapiContext {
  std::string home_page;      ///< of the accounts: an IRI, as in https://example.org
  std::string activity_base;  ///< IRI under which circuits and stations are activities
  std::string timestamp;      ///< ISO 8601
};
/// What a store would refuse every statement for.
Problems check_xapi(const XapiContext& context);
/// One statement a candidate and station ("completed", scored), one a candidate ("passed" or
/// "failed"; of one who goes to the board "completed"). The same cohort gives the same ids.
nlohmann::ordered_json make_xapi(const Cohort& cohort, const CohortFigures& figures,
                                 std::string_view circuit_id, const XapiContext& context);

}  // namespace redress::assessment
