// The part of a diagnosis that comes from running the storm, as text.
#pragma once
#include <lowspot/study/diagnosis.hpp>

#include "commands.hpp"

namespace lowspot::cli {

// Nothing when the storm was not run.
void print_wet(const Context& context, const study::Diagnosis& diagnosis);

} // namespace lowspot::cli
