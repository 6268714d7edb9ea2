// Asks whether something fits into memory before any is taken.
#pragma once
#include <string>

#include <lowspot/base/error.hpp>

namespace lowspot {

// Bytes this process may take: the computer's memory, or the limit set for the process (ulimit -v) where that
// is less. Infinite where the system does not say.
double memory_at_hand();

// Throws InputError where `bytes` exceed `at_hand`. `what` needs the memory ("7 designs on 4 million cells").
void require_memory(double bytes, const Where& where, const std::string& what, const std::string& mend,
                    double at_hand = memory_at_hand());

} // namespace lowspot
