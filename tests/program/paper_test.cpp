// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reports as PDF, read back with poppler: pages, words, what is on none of them; and what a start
// of the program does not load.
#include <cstdio>
#include <fstream>
#include <string>

#include <catch2/catch.hpp>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/report.hpp"
#include "sim/basics/file.hpp"
#include "sim/program/paper.hpp"
#include "tests/assessment/circuit_texts.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::assessment;

namespace {

std::string output_of(const std::string& command) {
  std::string text;
  std::FILE* const pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return text;
  char part[4096];
  for (std::size_t n = 0; (n = std::fread(part, 1, sizeof part, pipe)) > 0;) text.append(part, n);
  return pclose(pipe) == 0 ? text : std::string{};
}

struct Paper {
  int pages = 0;
  std::string words;
};

Paper read_back(const ReportDocument& document) {
  const Result<std::string> pdf = program::make_pdf(document);
  if (!pdf) FAIL(pdf.problems().front().message);
  tests::TemporaryFolder folder;
  const std::string path = folder / "report.pdf";
  std::ofstream(path, std::ios::binary) << pdf.value();
  Paper paper;
  const std::string info = output_of("pdfinfo '" + path + "'");
  const std::size_t at = info.find("Pages:");
  if (at != std::string::npos) paper.pages = std::stoi(info.substr(at + 6));
  paper.words = output_of("pdftotext -layout '" + path + "' -");
  return paper;
}

Cohort make_cohort(std::size_t candidates) {
  Cohort cohort;
  cohort.circuit = parse_circuit(testing::small_circuit()).value();
  for (std::size_t i = 0; i < candidates; ++i) {
    CohortRow row;
    row.candidate = "n" + std::to_string(1000 + i);
    for (std::size_t s = 0; s < 2; ++s) {
      CohortMark mark;
      mark.marks = 20.0 + static_cast<double>((i * 37 + s * 11) % 79);
      mark.unsafe = i % 9 == 4 && s == 1;
      mark.shares.assign(scoring::kItemCount, mark.marks / 100.0);
      row.stations.push_back(std::move(mark));
    }
    cohort.rows.push_back(std::move(row));
  }
  cohort.sizes = {{8, 9}, {-6, -6.5}, {12, 10}, {20, 22}};
  cohort.circuit_id = "circuit";
  return cohort;
}

const ReportHead kHead{"5c1e 90af 22d7", "0.1.0", "24 November 2026", false};

}  // namespace

TEST_CASE("the cohort report on paper says what the page says") {
  const Cohort cohort = make_cohort(60);
  const CohortFigures figures = calc_figures(cohort);
  const ReportDocument document = make_cohort_document(cohort, figures, kHead);
  const Paper paper = read_back(document);
  CHECK(paper.pages >= 2);
  const std::string html = make_html(document);
  for (const std::string part : {"small",
                                 "60 candidates, 2 scored stations",
                                 "24 November 2026",
                                 "Circuit seal 5c1e 90af",
                                 "Pass mark",
                                 "Alpha",
                                 "Generalisability",
                                 "Distribution",
                                 "pass 55.0",
                                 "Sizes written against what was there",
                                 "Stations",
                                 "Difficulty",
                                 "Discrimination",
                                 "Without it",
                                 "Lost most often",
                                 "Near the line",
                                 "Projected reliability",
                                 "Unsafe",
                                 "To be marked by a second assessor",
                                 "does not diagnose real people"}) {
    INFO(part);
    CHECK(paper.words.find(part) != std::string::npos);
    CHECK(html.find(part) != std::string::npos);
  }
  CHECK(paper.words.find("Page 1 of " + std::to_string(paper.pages)) != std::string::npos);
  CHECK(paper.words.find("Page " + std::to_string(paper.pages) + " of") != std::string::npos);
  // Every row of the lists is there, however many pages they go over.
  for (const std::size_t i : figures.second_marking) {
    CHECK(paper.words.find(figures.candidates_in_order[i].candidate) != std::string::npos);
  }
}

TEST_CASE("long lists go over pages and lose nobody") {
  Cohort cohort = make_cohort(500);
  for (CohortRow& row : cohort.rows) row.stations[1].unsafe = true;
  const CohortFigures figures = calc_figures(cohort);
  const Paper paper = read_back(make_cohort_document(cohort, figures, kHead));
  CHECK(paper.pages >= 10);
  std::size_t missing = 0;
  for (const CohortRow& row : cohort.rows) {
    if (paper.words.find(row.candidate) == std::string::npos) ++missing;
  }
  CHECK(missing == 0);
}

TEST_CASE("a candidate has one page, and it names no patient and nobody else") {
  const Cohort cohort = make_cohort(60);
  const CohortFigures figures = calc_figures(cohort);
  const Paper paper = read_back(make_candidate_document(cohort, figures, 7, kHead));
  CHECK(paper.pages == 1);
  CHECK(paper.words.find("Candidate n1007") != std::string::npos);
  CHECK(paper.words.find("Performance on simulated patients") != std::string::npos);
  CHECK(paper.words.find("n1008") == std::string::npos);
  CHECK(paper.words.find("three") == std::string::npos);  // the station's name
  CHECK(paper.words.find("esophoria") == std::string::npos);
}

TEST_CASE("a certificate claims performance on simulated patients and no more") {
  const Cohort cohort = make_cohort(60);
  const CohortFigures figures = calc_figures(cohort);
  const Paper paper = read_back(make_certificate(cohort, figures, 7, kHead));
  CHECK(paper.pages == 1);
  CHECK(paper.words.find("Certificate") != std::string::npos);
  CHECK(paper.words.find("Candidate n1007") != std::string::npos);
  CHECK(paper.words.find("Performance on simulated patients; hand skill, child handling") !=
        std::string::npos);
}

TEST_CASE("no start of the program loads what draws a PDF or posts statements") {
  const std::string needed = output_of("readelf -d '" + support::program_path() + "'");
  REQUIRE(needed.find("NEEDED") != std::string::npos);
  for (const std::string library : {"cairo", "pango", "glib", "gobject", "curl", "libpq", "ssl"}) {
    INFO(library);
    CHECK(needed.find("lib" + library) == std::string::npos);
  }
}
