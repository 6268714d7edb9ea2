#include "catch.hpp"

#include <lowspot/study/progress_board.hpp>

using namespace lowspot;

TEST_CASE("the share of all runs is the mean of theirs; a listener may stop them") {
  double told = 0;
  const std::function<bool(double)> listen = [&](double share) {
    told = share;
    return share < 0.7;
  };
  study::ProgressBoard board(4, listen);
  board.update(0, 1);
  CHECK(told == 0.25);
  board.update(2, 0.5);
  CHECK(told == 0.375);
  board.update(2, 1);
  CHECK(told == 0.5);
  CHECK_THROWS_AS(board.update(3, 1), study::Stopped);
  const std::function<bool(double)> nobody;
  study::ProgressBoard unheard(1, nobody);
  CHECK_NOTHROW(unheard.update(0, 1));
}
