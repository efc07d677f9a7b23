#include "faces/ports/system.hpp"

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>

#include <fcntl.h>
#include <unistd.h>

namespace pappus::ports {
namespace {

constexpr std::size_t kLargest = 16u << 20;

tl::unexpected<Issue> failed(Errc code, std::string key, const std::string& path, std::string wanted = {}) {
  Issue issue;
  issue.code = code;
  issue.sentence = say(std::move(key));
  issue.where.file = path;
  issue.wanted = std::move(wanted);
  return tl::unexpected{std::move(issue)};
}

}  // namespace

Instant SystemClock::now() const {
  using std::chrono::milliseconds;
  const auto since_1970 = std::chrono::system_clock::now().time_since_epoch();
  return Instant::from_unix_milliseconds(std::chrono::duration_cast<milliseconds>(since_1970).count());
}

Result<std::string> DiskFiles::read(const std::string& path) const {
  std::error_code ignored;
  if (path != "-" && std::filesystem::is_directory(path, ignored))
    return failed(Errc::bad_input, "issue.file_is_folder", path);
  struct Close {
    void operator()(std::FILE* f) const {
      if (f != stdin) std::fclose(f);
    }
  };
  const std::unique_ptr<std::FILE, Close> file{path == "-" ? stdin : std::fopen(path.c_str(), "rb")};
  if (!file) {
    if (errno == ENOENT || errno == ENOTDIR) return failed(Errc::not_found, "issue.file_not_found", path);
    return failed(Errc::machine_failed, "issue.file_unreadable", path);
  }
  std::string text;
  char block[65536];
  while (const std::size_t n = std::fread(block, 1, sizeof block, file.get())) {
    text.append(block, n);
    if (text.size() > kLargest) return failed(Errc::bad_input, "issue.file_too_large", path, "16 MiB");
  }
  if (std::ferror(file.get()) != 0) return failed(Errc::machine_failed, "issue.file_unreadable", path);
  return text;
}

std::string DiskFiles::beside(const std::string& file, const std::string& relative) const {
  if (file == "-") return relative;
  return (std::filesystem::path{file}.parent_path() / relative).lexically_normal().string();
}

Result<void> DiskFiles::write(const std::string& path, std::string_view text, std::string_view ours) const {
  namespace fs = std::filesystem;
  std::error_code ignored;
  const auto unwritable = [&] { return failed(Errc::machine_failed, "issue.file_unwritable", path); };
  if (fs::is_directory(path, ignored)) return failed(Errc::bad_input, "issue.file_is_folder", path);
  if (fs::exists(path, ignored)) {
    // A device or a pipe has no beginning to look at.
    if (!fs::is_regular_file(path, ignored)) return unwritable();
    const auto there = read(path);
    if (!there && there.error().code == Errc::machine_failed) return unwritable();
    if (!there || (!there->empty() && there->rfind(ours, 0) != 0))
      return failed(Errc::conflict, "issue.file_not_ours", path);
  }
  // A link stays one: what it points to is written.
  const std::string target = fs::is_symlink(path, ignored) ? fs::weakly_canonical(path, ignored).string() : path;
  const std::string beside_it = target + "." + std::to_string(::getpid()) + ".part";
  const int file = ::open(beside_it.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (file < 0) return unwritable();
  bool whole = true;
  while (whole && !text.empty()) {
    const ssize_t n = ::write(file, text.data(), text.size());
    if (n < 0 && errno == EINTR) continue;
    whole = n > 0;
    if (whole) text.remove_prefix(static_cast<std::size_t>(n));
  }
  if (::close(file) != 0) whole = false;
  if (whole && ::rename(beside_it.c_str(), target.c_str()) == 0) return {};
  ::unlink(beside_it.c_str());
  return unwritable();
}

}  // namespace pappus::ports
