/* Loaded before the C library into the service under trial: keeps beside the data directory an image of what a power cut
 * would leave, that is, only what was written and then synced. Unsynced writes stay out of it; unlinking and renaming
 * count at once. It models lost writes, not torn or reordered ones. While FAULT_FULL_FLAG exists, writing fails as on a
 * full disk. FAULT_DIR is the directory watched, FAULT_IMAGE the image; only files directly in FAULT_DIR are followed. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define FILES_MAX 64
#define FDS_MAX 65536
#define NAME_MAX_BYTES 256
#define COPY_BYTES 65536

struct range { off_t from, to; struct range *next; };
struct file { char name[NAME_MAX_BYTES]; struct range *dirty; int truncated; int used; };

static struct file files[FILES_MAX];
static int file_of_fd[FDS_MAX]; /* index + 1, 0: not followed */
static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static const char *dir, *image, *full_flag;

static int (*real_open)(const char *, int, ...);
static ssize_t (*real_write)(int, const void *, size_t);
static ssize_t (*real_pwrite)(int, const void *, size_t, off_t);
static int (*real_ftruncate)(int, off_t);
static int (*real_fsync)(int);
static int (*real_fdatasync)(int);
static int (*real_close)(int);
static int (*real_unlink)(const char *);
static int (*real_rename)(const char *, const char *);

static void prepare(void) {
  if (real_open) return;
  dir = getenv("FAULT_DIR");
  image = getenv("FAULT_IMAGE");
  full_flag = getenv("FAULT_FULL_FLAG");
  real_write = dlsym(RTLD_NEXT, "write");
  real_pwrite = dlsym(RTLD_NEXT, "pwrite64");
  real_ftruncate = dlsym(RTLD_NEXT, "ftruncate64");
  real_fsync = dlsym(RTLD_NEXT, "fsync");
  real_fdatasync = dlsym(RTLD_NEXT, "fdatasync");
  real_close = dlsym(RTLD_NEXT, "close");
  real_unlink = dlsym(RTLD_NEXT, "unlink");
  real_rename = dlsym(RTLD_NEXT, "rename");
  real_open = dlsym(RTLD_NEXT, "open64");
}
__attribute__((constructor)) static void start(void) { prepare(); }

/* The name within the watched directory, or NULL. */
static const char *followed(const char *path) {
  if (!dir || !image || !path) return NULL;
  size_t length = strlen(dir);
  if (strncmp(path, dir, length) != 0 || path[length] != '/') return NULL;
  const char *name = path + length + 1;
  return strchr(name, '/') || strlen(name) >= NAME_MAX_BYTES || !*name ? NULL : name;
}

static int slot_of(const char *name) {
  int free_slot = -1;
  for (int i = 0; i < FILES_MAX; i++) {
    if (files[i].used && strcmp(files[i].name, name) == 0) return i;
    if (!files[i].used && free_slot < 0) free_slot = i;
  }
  if (free_slot >= 0) {
    files[free_slot].used = 1;
    strcpy(files[free_slot].name, name);
  }
  return free_slot;
}

static void image_path(char *into, const char *name) { snprintf(into, 4096, "%s/%s", image, name); }

static void forget_ranges(struct file *file) {
  for (struct range *r = file->dirty; r;) {
    struct range *next = r->next;
    free(r);
    r = next;
  }
  file->dirty = NULL;
  file->truncated = 0;
}

static void dirty(int fd, off_t from, off_t to) {
  struct file *file = &files[file_of_fd[fd] - 1];
  if (file->dirty && from <= file->dirty->to && to >= file->dirty->from) { /* grows the last range */
    if (from < file->dirty->from) file->dirty->from = from;
    if (to > file->dirty->to) file->dirty->to = to;
    return;
  }
  struct range *r = malloc(sizeof *r);
  r->from = from;
  r->to = to;
  r->next = file->dirty;
  file->dirty = r;
}

/* Brings the image of one file up to what was written: its sync is about to be answered. */
static void copy_synced(int fd) {
  struct file *file = &files[file_of_fd[fd] - 1];
  char path[4096];
  image_path(path, file->name);
  int to = real_open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (to < 0) return;
  /* A descriptor of our own: the caller's may have been opened for writing only. */
  char own[4096];
  snprintf(own, sizeof own, "%s/%s", dir, file->name);
  int from = real_open(own, O_RDONLY | O_CLOEXEC);
  static char buffer[COPY_BYTES];
  for (struct range *r = file->dirty; r && from >= 0; r = r->next) {
    for (off_t at = r->from; at < r->to;) {
      size_t want = (size_t)(r->to - at) < sizeof buffer ? (size_t)(r->to - at) : sizeof buffer;
      ssize_t got = pread(from, buffer, want, at);
      if (got <= 0) break;
      if (real_pwrite(to, buffer, (size_t)got, at) != got) break;
      at += got;
    }
  }
  struct stat status;
  if (from >= 0 && fstat(from, &status) == 0 && file->truncated) real_ftruncate(to, status.st_size);
  if (from >= 0) real_close(from);
  real_close(to);
  forget_ranges(file);
}

static int is_followed(int fd) { return fd >= 0 && fd < FDS_MAX && file_of_fd[fd] > 0; }
static int is_full(int fd) { return is_followed(fd) && full_flag && access(full_flag, F_OK) == 0; }

static int open_followed(const char *path, int flags, mode_t mode) {
  prepare();
  int fd = real_open(path, flags, mode);
  const char *name = fd < 0 || (flags & O_DIRECTORY) ? NULL : followed(path);
  if (fd >= 0 && fd < FDS_MAX) {
    pthread_mutex_lock(&lock);
    int slot = name ? slot_of(name) : -1;
    file_of_fd[fd] = slot + 1;
    if (slot >= 0 && (flags & O_TRUNC)) files[slot].truncated = 1;
    pthread_mutex_unlock(&lock);
  }
  return fd;
}

#define MODE(flags, mode) \
  mode_t mode = 0;        \
  if ((flags) & (O_CREAT | O_TMPFILE)) { va_list list; va_start(list, flags); mode = va_arg(list, mode_t); va_end(list); }

int open(const char *path, int flags, ...) { MODE(flags, mode) return open_followed(path, flags, mode); }
int open64(const char *path, int flags, ...) { MODE(flags, mode) return open_followed(path, flags | O_LARGEFILE, mode); }

ssize_t write(int fd, const void *bytes, size_t count) {
  prepare();
  if (!is_followed(fd)) return real_write(fd, bytes, count);
  if (is_full(fd)) { errno = ENOSPC; return -1; }
  pthread_mutex_lock(&lock);
  ssize_t written = real_write(fd, bytes, count);
  off_t end = lseek(fd, 0, SEEK_CUR);
  if (written > 0 && end >= written) dirty(fd, end - written, end);
  pthread_mutex_unlock(&lock);
  return written;
}

ssize_t pwrite64(int fd, const void *bytes, size_t count, off_t offset) {
  prepare();
  if (!is_followed(fd)) return real_pwrite(fd, bytes, count, offset);
  if (is_full(fd)) { errno = ENOSPC; return -1; }
  pthread_mutex_lock(&lock);
  ssize_t written = real_pwrite(fd, bytes, count, offset);
  if (written > 0) dirty(fd, offset, offset + written);
  pthread_mutex_unlock(&lock);
  return written;
}
ssize_t pwrite(int fd, const void *bytes, size_t count, off_t offset) { return pwrite64(fd, bytes, count, offset); }

int ftruncate64(int fd, off_t length) {
  prepare();
  pthread_mutex_lock(&lock);
  int result = real_ftruncate(fd, length);
  if (result == 0 && is_followed(fd)) files[file_of_fd[fd] - 1].truncated = 1;
  pthread_mutex_unlock(&lock);
  return result;
}
int ftruncate(int fd, off_t length) { return ftruncate64(fd, length); }

static int sync_followed(int fd, int (*real)(int)) {
  pthread_mutex_lock(&lock);
  /* The image stands for the disk: it is complete before the sync is answered. The real disk need not be asked. */
  int result = is_followed(fd) ? 0 : real(fd);
  if (is_followed(fd)) copy_synced(fd);
  pthread_mutex_unlock(&lock);
  return result;
}
int fsync(int fd) { prepare(); return sync_followed(fd, real_fsync); }
int fdatasync(int fd) { prepare(); return sync_followed(fd, real_fdatasync); }

int close(int fd) {
  prepare();
  if (is_followed(fd)) {
    pthread_mutex_lock(&lock);
    file_of_fd[fd] = 0;
    pthread_mutex_unlock(&lock);
  }
  return real_close(fd);
}

int unlink(const char *path) {
  prepare();
  int result = real_unlink(path);
  const char *name = result == 0 ? followed(path) : NULL;
  if (name) {
    char other[4096];
    image_path(other, name);
    pthread_mutex_lock(&lock);
    real_unlink(other);
    int slot = slot_of(name);
    if (slot >= 0) forget_ranges(&files[slot]);
    pthread_mutex_unlock(&lock);
  }
  return result;
}

int rename(const char *from, const char *to) {
  prepare();
  int result = real_rename(from, to);
  const char *old_name = result == 0 ? followed(from) : NULL;
  const char *new_name = result == 0 ? followed(to) : NULL;
  if (old_name && new_name) {
    char old_image[4096], new_image[4096];
    image_path(old_image, old_name);
    image_path(new_image, new_name);
    real_rename(old_image, new_image);
  }
  return result;
}
