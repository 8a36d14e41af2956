// SPDX-License-Identifier: MIT
#pragma once

/// Before a function: compiled twice, for processors with rows of four doubles and for all others; the
/// machine at hand chooses. Both give the same bits, as no multiplication is fused with an addition.
#if defined(__x86_64__) && defined(__linux__) && !defined(__SANITIZE_ADDRESS__) && !defined(__clang__)
#define EVENSPIT_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define EVENSPIT_WIDE
#endif

/// Behind a lambda's parameters: inlined into whoever calls it, and so compiled as that is.
#define EVENSPIT_INLINED __attribute__((always_inline))
