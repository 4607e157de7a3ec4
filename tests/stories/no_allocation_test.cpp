// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A step takes no memory from the heap: counted, in busy examinations of every shipped case, in
// which patients speak, asked and unasked.
#include <atomic>
#include <cstdlib>
#include <new>

#include "tests/cases/case_texts.hpp"
#include "tests/support/story.hpp"

namespace {
std::atomic<long> allocations{0};
}

// Every form of operator new ends here.
void* operator new(std::size_t size) {
  ++allocations;
  void* p = std::malloc(size != 0 ? size : 1);
  if (p == nullptr) throw std::bad_alloc{};
  return p;
}
void operator delete(void* p) noexcept { std::free(p); }
void operator delete(void* p, std::size_t) noexcept { std::free(p); }

using namespace redress;
using namespace redress::tests;

namespace {

void check_steps(const ExaminationSetup& setup) {
  Examination exam(setup, {3, 1.0, true});
  for (int i = 0; i < 10; ++i) {
    exam.apply(cover(0, i % 2 == 0 ? Eye::right : Eye::left).content);
    exam.apply(hold_prism(0, Eye::left, 2.0 + i, 180.0).content);
    const long before = allocations;
    for (int t = 0; t < 1500; ++t) exam.step();
    CHECK(allocations == before);
  }
}

}  // namespace

TEST_CASE("a step allocates nothing") {
  const long before_anything = allocations;
  const ExaminationSetup setup = setup_of(case_with_deviation(-6, -9));
  CHECK(allocations > before_anything);  // the counter counts
  check_steps(setup);
}

TEST_CASE("a step of two eyes with weak and stopped muscles allocates nothing") {
  check_steps(setup_of(case_with(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "muscles": {"right": {"lateral_rectus": {"strength": 0.3}, "medial_rectus": {"limit_deg": 5}},
                "left": {"superior_oblique": {"strength": 0.2}}})")));
}

TEST_CASE("whole examinations in which patients speak allocate nothing in a step") {
  int unasked = 0;
  int answers = 0;
  for (const std::string& name : testing::shipped_case_names()) {
    INFO(name);
    const Result<Case> read = read_case_text(testing::shipped_case(name));
    REQUIRE(read.ok());
    Examination exam(setup_of(read.value()), {read.value().seed, 1.0, true});
    long in_steps = 0;
    for (int t = 0; t < 40000; ++t) {
      if (t % 6000 == 3000) exam.apply(cover(0, t % 12000 < 6000 ? Eye::right : Eye::left).content);
      if (t % 6000 == 5000) exam.apply(uncover(0).content);
      if (t == 8000) exam.apply(hold_prism(0, Eye::left, 12.0, 90.0).content);
      if (t == 14000) exam.apply(remove_prism(0, Eye::left).content);
      if (t == 15000) exam.apply(act::Instruct{Instruction::relax});
      if (t == 20000) exam.apply(act::Ask{"single_or_double"});
      if (t == 20100) exam.apply(act::Ask{"onset"});
      if (t == 20200) exam.apply(act::Request{"acuity"});
      if (t == 21000) exam.apply(show(0, 0.4).content);
      if (t == 26000) exam.apply(show(0, 6.0, 20.0, 10.0).content);
      const long before = allocations;
      exam.step();
      in_steps += allocations - before;
      for (const Reply& reply : exam.take_replies()) {
        CHECK(reply.at_ms == exam.now());
        (reply.to == kUnasked ? unasked : answers) += 1;
      }
    }
    CHECK(in_steps == 0);
  }
  CHECK(unasked >= 5);
  CHECK(answers == 3 * static_cast<int>(testing::shipped_case_names().size()));
}
