// SPDX-License-Identifier: MIT
#include "scan/scan_library.h"

#include <cstdlib>
#include <dlfcn.h>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "scan/aside.h"
#include "units/error.h"

namespace evenspit::scan {

namespace {

constexpr const char* module_name = "libevenspit_scan_library.so";

[[noreturn]] void refuse_without(const std::string& why) {
    Complaint complaint;
    complaint.found = fmt::format("no scan library that fits ({})", why);
    complaint.mend = "install Evenspit again with all its files, and Debian's package libopen3d0.16";
    throw InputError(std::move(complaint));
}

const library::Functions& opened() {
    // Found by the program's run path.
    void* const handle = ::dlopen(module_name, RTLD_NOW | RTLD_LOCAL);
    if (handle == nullptr) refuse_without(::dlerror());
    // What the module set up for itself is taken down after this.
    await_abandoned();
    std::atexit(await_abandoned);
    using Entry = const library::Functions* (*)();
    const auto entry = reinterpret_cast<Entry>(::dlsym(handle, library::entry_name));
    if (entry == nullptr) refuse_without(::dlerror());
    const library::Functions* const functions = entry();
    if (functions->version != library::api_version) {
        refuse_without(fmt::format("{} speaks version {}, this program version {}", module_name,
                                   functions->version, library::api_version));
    }
    return *functions;
}

}  // namespace

const library::Functions& scan_library() {
    static const library::Functions& functions = opened();
    return functions;
}

}  // namespace evenspit::scan
