# One image, two commands: the API (the default) and the worker (node dist/worker/main.js).
ARG NODE_IMAGE=node:20-bookworm-slim

FROM ${NODE_IMAGE} AS build
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
RUN npm ci
COPY tsconfig.json prisma.config.ts ./
COPY api api
COPY openapi openapi
COPY prisma prisma
COPY worker worker
RUN npm run build

FROM ${NODE_IMAGE} AS packages
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
# The optional packages are the embedded database, which a container does without: it is given DATABASE_URL.
RUN npm ci --omit=dev --omit=optional

FROM ${NODE_IMAGE}
ENV NODE_ENV=production HOST=0.0.0.0 PORT=8080 DATA_DIR=/data
WORKDIR /app
COPY package.json LICENSE ./
COPY --from=packages /app/node_modules node_modules
COPY --from=build /app/dist dist
COPY prisma/migrations prisma/migrations
RUN mkdir /data && chown node:node /data
USER node
EXPOSE 8080
CMD ["node", "dist/api/main.js"]
