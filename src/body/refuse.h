// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <utility>

#include "units/error.h"
#include "units/metric.h"

namespace evenspit::body {

/// Throws InputError with one complaint without a spot; the caller of this room knows file and line.
[[noreturn]] inline void refuse(std::string key, std::string found, std::string expected, std::string mend) {
    Complaint complaint;
    complaint.key = std::move(key);
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

/// A mass as the complaints of this room tell it.
inline std::string kilograms(double kg) {
    return metric(kg, Dimension::mass);
}

}  // namespace evenspit::body
