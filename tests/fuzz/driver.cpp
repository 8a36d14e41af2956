// SPDX-License-Identifier: MIT
// Where the fuzzer calls a target; EVENSPIT_FUZZ_TARGET is its name.
#include <cstddef>
#include <cstdint>

#include "targets.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    evenspit::fuzz::EVENSPIT_FUZZ_TARGET({reinterpret_cast<const char*>(data), size});
    return 0;
}
