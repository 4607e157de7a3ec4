// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A step takes no memory from the heap: counted, in a busy examination.
#include <atomic>
#include <cstdlib>
#include <new>

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
