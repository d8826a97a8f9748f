"""The stocking decision for general solvers, as docs/model.md states it."""
