// Only built with Catch2 2.13, which has no library with a main of its own.
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
