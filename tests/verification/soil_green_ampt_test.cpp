// Green-Ampt under rain and with ponded water: closed forms against the functions of the law and against
// columns that are stepped in time. K, suction and deficit are those of the cases, not of a soil.
#include "catch.hpp"
#include "figures.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/green_ampt.hpp>

using namespace lowspot::soil;

namespace {
constexpr double mm = 1e-3;
constexpr double hour = 3600;
constexpr double mm_h = mm / hour;
constexpr double cm_h = 10 * mm_h;

// One deep column whose law has the given figures.
struct Plot {
  Columns columns;
  std::vector<double> saturated{0.0}, standing{0.0}, supply{0.0}, capacity{0.0}, entering{0.0}, recharge{0.0};
  double infiltrated = 0;
  double time = 0;

  Plot(double conductivity, double suction, double deficit, bool ponded_head) {
    const Parameters soil{20, 0.5, 0.5 - deficit, 0.05, 0.02, conductivity, suction, 0.2, 0.06};
    columns = make_columns({soil}, {0}, {1}, {0.5 - deficit});
    columns.ponded_head = ponded_head;
  }
  void step(double rain, double dt) {
    supply[0] = rain;
    infiltration_capacity(columns, saturated, standing, supply, dt, capacity);
    entering[0] = std::min(capacity[0] * dt, standing[0] + rain * dt);
    infiltrate(columns, saturated, entering, dt, recharge);
    standing[0] += rain * dt - entering[0];
    infiltrated += entering[0];
    time += dt;
  }
  void run(double rain, double until, double dt) {
    const int steps = static_cast<int>(std::lround((until - time) / dt));
    for (int i = 0; i < steps; ++i) step(rain, dt);
  }
};

struct Table {
  double time, infiltrated;
};
} // namespace

TEST_CASE("Steady rain: depths infiltrated agree with the closed form to 1e-8 m") {
  const double conductivity = 6.5 * mm_h, drive = 0.1668 * 0.34;
  CHECK_THAT(infiltrated_at_ponding(conductivity, drive, 25 * mm_h), WithinAbs(19.925838 * mm, 1e-8));
  figures::record("soil", "steady rain, the law alone", "taken in at ponding, mm", (19.925838 * mm) * 1e3,
                  (infiltrated_at_ponding(conductivity, drive, 25 * mm_h)) * 1e3,
                  figures::amount((1e-8) * 1e3));
  CHECK_THAT(ponding_time(conductivity, drive, 25 * mm_h), WithinAbs(2869.3206, 1e-3));
  figures::record("soil", "steady rain, the law alone", "ponds after, s", 2869.3206,
                  ponding_time(conductivity, drive, 25 * mm_h), figures::amount(1e-3));
  CHECK_THAT(infiltrated_at_ponding(conductivity, drive, 50 * mm_h), WithinAbs(8.474207 * mm, 1e-8));
  figures::record("soil", "steady rain, the law alone", "taken in at ponding, mm", (8.474207 * mm) * 1e3,
                  (infiltrated_at_ponding(conductivity, drive, 50 * mm_h)) * 1e3,
                  figures::amount((1e-8) * 1e3));
  CHECK_THAT(ponding_time(conductivity, drive, 50 * mm_h), WithinAbs(610.1429, 1e-3));
  figures::record("soil", "steady rain, the law alone", "ponds after, s", 610.1429,
                  ponding_time(conductivity, drive, 50 * mm_h), figures::amount(1e-3));
  const auto check = [&](double rain, std::vector<Table> rows) {
    for (const Table& row : rows)
      CHECK_THAT(infiltrated_under_supply(conductivity, drive, 0, rain * mm_h, row.time),
                 WithinAbs(row.infiltrated * mm, 1e-8));
  };
  check(25, {{1800, 12.5}, {3600, 24.608668}, {7200, 42.234212}, {10800, 56.244255}});
  check(50, {{1800, 19.441321}, {3600, 30.158729}, {7200, 46.353012}, {10800, 59.815291}});
  CHECK_THAT(infiltration_rate(conductivity, drive, 24.608668 * mm) / mm_h, WithinAbs(21.479600, 1e-5));
  figures::record("soil", "steady rain, the law alone", "rate at an hour, mm/h", 21.479600,
                  infiltration_rate(conductivity, drive, 24.608668 * mm) / mm_h, figures::amount(1e-5));
  CHECK_THAT(infiltration_rate(conductivity, drive, 30.158729 * mm) / mm_h, WithinAbs(18.722929, 1e-5));
  figures::record("soil", "steady rain, the law alone", "rate at an hour, mm/h", 18.722929,
                  infiltration_rate(conductivity, drive, 30.158729 * mm) / mm_h, figures::amount(1e-5));
}

TEST_CASE("Steady rain: a stepped column is within 0.5 % and ponds within one step") {
  const auto check = [](double rain, double ponds, std::vector<Table> rows, double dt) {
    Plot plot(6.5 * mm_h, 0.1668, 0.34, false);
    double ponded_at = -1;
    for (const Table& row : rows) {
      while (plot.time < row.time - 0.5 * dt) {
        plot.step(rain * mm_h, dt);
        if (ponded_at < 0 && plot.standing[0] > 0) ponded_at = plot.time;
      }
      CHECK_THAT(plot.infiltrated, WithinRel(row.infiltrated * mm, 0.005));
      figures::record("soil", "steady rain, column in steps of 1 to 60 s", "taken in, mm",
                      (row.infiltrated * mm) * 1e3, (plot.infiltrated) * 1e3, figures::share(0.005));
      CHECK_THAT(plot.infiltrated + plot.standing[0], WithinRel(rain * mm_h * row.time, 1e-11));
    }
    CHECK(ponded_at >= ponds);
    CHECK(ponded_at <= ponds + dt);
  };
  for (double dt : {1.0, 10.0, 60.0}) {
    check(25, 2869.3206, {{1800, 12.5}, {3600, 24.608668}, {7200, 42.234212}, {10800, 56.244255}}, dt);
    check(50, 610.1429, {{1800, 19.441321}, {3600, 30.158729}, {7200, 46.353012}, {10800, 59.815291}}, dt);
  }
}

TEST_CASE("Two blocks of rain: the second ponds at once and F is the closed form") {
  for (double dt : {10.0, 60.0}) {
    Plot plot(6.5 * mm_h, 0.1668, 0.34, false);
    plot.run(15 * mm_h, hour, dt);
    CHECK(plot.standing[0] == 0);
    plot.step(60 * mm_h, dt);
    CHECK(plot.standing[0] > 0);
    plot.run(60 * mm_h, 1.5 * hour, dt);
    CHECK_THAT(plot.infiltrated, WithinRel(27.076573 * mm, 1e-6));
    figures::record("soil", "two blocks of rain, column", "taken in, mm", (27.076573 * mm) * 1e3,
                    (plot.infiltrated) * 1e3, figures::share(1e-6));
    CHECK_THAT(plot.standing[0], WithinRel(17.923427 * mm, 1e-6));
  }
}

TEST_CASE("Textbook columns with a constant head and under steady rain") {
  const double conductivity = 0.65 * cm_h, deficit = 0.34;
  const double with_head = (0.17 + 0.025) * deficit, drive = 0.17 * deficit, infiltrated = 0.30 * deficit;
  CHECK_THAT(infiltration_rate(conductivity, with_head, infiltrated) / cm_h, WithinAbs(1.0725, 1e-6));
  CHECK_THAT(infiltrated, WithinAbs(0.102, 1e-12));
  CHECK_THAT(ponded_time_between(conductivity, with_head, 0, infiltrated) / hour, WithinAbs(6.190414, 1e-6));
  const double rain = 1.5 * cm_h;
  CHECK_THAT(infiltrated_at_ponding(conductivity, drive, rain), WithinAbs(0.0442, 1e-8));
  CHECK_THAT(infiltrated_at_ponding(conductivity, drive, rain) / deficit, WithinAbs(0.13, 1e-6));
  CHECK_THAT(ponding_time(conductivity, drive, rain) / hour, WithinAbs(2.946667, 1e-6));
  const double half = 0.5 * conductivity;
  CHECK_THAT(infiltrated_at_ponding(half, drive, rain) / deficit, WithinAbs(0.04702128, 1e-8));
  CHECK_THAT(infiltrated_at_ponding(half, drive, rain), WithinAbs(0.01598723, 1e-8));
  CHECK_THAT(ponding_time(half, drive, rain) / hour, WithinAbs(1.065816, 1e-6));
}

TEST_CASE("Constant head: Lambert W values, by the law and by a stepped column") {
  const double conductivity = 3.4 * mm_h, drive = (0.0889 + 0.05) * 0.25;
  const std::vector<Table> rows{{60, 2.021766},    {600, 6.656686},    {1800, 12.027451},
                                {3600, 17.711993}, {14400, 40.394527}, {86400, 137.132400}};
  Plot plot(conductivity, 0.0889, 0.25, true);
  for (const Table& row : rows) {
    CHECK_THAT(infiltrated_while_ponded(conductivity, drive, 0, row.time),
               WithinAbs(row.infiltrated * mm, 1e-8));
    while (plot.time < row.time - 1) {
      plot.standing[0] = 0.05;
      plot.step(0, 30);
    }
    CHECK_THAT(plot.infiltrated, WithinAbs(row.infiltrated * mm, 1e-8));
    figures::record("soil", "head of 50 mm held (Lambert W), column", "taken in, mm",
                    (row.infiltrated * mm) * 1e3, (plot.infiltrated) * 1e3, figures::amount((1e-8) * 1e3));
  }
}

namespace {
// Steps until nothing stands; the moment within the last step by its share of the capacity.
double gone_at(Plot& plot, double dt) {
  while (plot.time < 1e6) {
    const double before = plot.standing[0];
    plot.step(0, dt);
    if (plot.standing[0] <= 0) return plot.time - dt + before / plot.capacity[0];
  }
  return -1;
}

double relative_error(double value, double expected) {
  return std::abs(value / expected - 1);
}
} // namespace

TEST_CASE("Closed basin: falling depth within 1 %, with the head in the law and without") {
  struct Case {
    bool head;
    double gone;
    std::vector<double> depths;
  };
  for (const Case& basin : {Case{true, 12484.518, {65.4274, 53.7372, 41.4169, 22.4954, 6.7575}},
                            Case{false, 14177.143, {68.3726, 58.3586, 47.2528, 29.2767, 13.6191}}}) {
    const double times[] = {600, 1800, 3600, 7200, 10800};
    Plot plot(10 * mm_h, 0.11, 0.30, basin.head);
    plot.standing[0] = 80 * mm;
    for (int i = 0; i < 5; ++i) {
      plot.run(0, times[i], 30);
      CHECK_THAT(plot.standing[0] / mm, WithinRel(basin.depths[i], 0.01));
      figures::record("soil", "closed basin of 80 mm, steps of 30 s", "depth left, mm", basin.depths[i],
                      plot.standing[0] / mm, figures::share(0.01));
    }
    CHECK_THAT(gone_at(plot, 30), WithinRel(basin.gone, 0.01));
    figures::record("soil", "closed basin of 80 mm, steps of 30 s", "gone after, s", basin.gone,
                    gone_at(plot, 30), figures::share(0.01));
  }
}

TEST_CASE("Closed basin: the depth converges with order one in the step, and is exact without the head") {
  double errors[3];
  for (int level = 0; level < 3; ++level) {
    Plot plot(10 * mm_h, 0.11, 0.30, true);
    plot.standing[0] = 80 * mm;
    plot.run(0, 7200, 120.0 / (1 << level));
    errors[level] = relative_error(plot.standing[0], 22.4954 * mm);
  }
  CHECK(std::log2(errors[0] / errors[1]) > 0.9);
  CHECK(std::log2(errors[1] / errors[2]) > 0.9);
  figures::record("soil", "closed basin of 80 mm, steps of 30 s", "order in the step",
                  std::log2(errors[1] / errors[2]), figures::at_least(0.9));
  Plot plot(10 * mm_h, 0.11, 0.30, false);
  plot.standing[0] = 80 * mm;
  plot.run(0, 7200, 600);
  CHECK(relative_error(plot.standing[0], 29.2767 * mm) < 3e-6); // the digits given
}

TEST_CASE("Closed basin under rain: ponding, depth at the end and standing time within 1 %") {
  struct Case {
    bool head;
    double depth, gone, standing;
  };
  for (const Case& basin :
       {Case{true, 19.2550, 9435.905, 8445.905}, Case{false, 20.0787, 9738.891, 8748.891}}) {
    Plot plot(10 * mm_h, 0.11, 0.30, basin.head);
    double ponded_at = -1;
    while (plot.time < 5400) {
      plot.step(40 * mm_h, 30);
      if (ponded_at < 0 && plot.standing[0] > 1e-12) ponded_at = plot.time;
    }
    CHECK(ponded_at >= 990);
    CHECK(ponded_at <= 1020);
    CHECK_THAT(plot.standing[0] / mm, WithinRel(basin.depth, 0.01));
    figures::record("soil", "closed basin under rain, steps of 30 s", "depth at the end of rain, mm",
                    basin.depth, plot.standing[0] / mm, figures::share(0.01));
    const double gone = gone_at(plot, 30);
    CHECK_THAT(gone, WithinRel(basin.gone, 0.01));
    CHECK_THAT(gone - 990, WithinRel(basin.standing, 0.01));
    figures::record("soil", "closed basin under rain, steps of 30 s", "standing time, s", basin.standing,
                    gone - 990, figures::share(0.01));
  }
}
