// Inner loops are compiled for several processors and chosen when the program starts.
#pragma once

// The sanitizers start after the choice is made, so that they get the portable version.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) &&     \
    !defined(__SANITIZE_THREAD__)
#define LOWSPOT_PERCHED_CLONES __attribute__((target_clones("default", "arch=x86-64-v3", "arch=x86-64-v4")))
#else
#define LOWSPOT_PERCHED_CLONES
#endif
