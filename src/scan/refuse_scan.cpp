// SPDX-License-Identifier: MIT
#include "scan/refuse_scan.h"

#include <utility>

#include "units/error.h"

namespace evenspit::scan {

void refuse_scan(const std::string& file, std::string found, std::string expected, std::string mend) {
    Complaint complaint;
    complaint.spot.file = file;
    complaint.found = std::move(found);
    complaint.expected = std::move(expected);
    complaint.mend = std::move(mend);
    throw InputError(std::move(complaint));
}

}  // namespace evenspit::scan
